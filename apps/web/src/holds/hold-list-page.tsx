import { Anchor, Button, NativeSelect, Stack, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link, useSearchParams } from 'react-router';
import { type HoldRow, holdState } from '#contract/holds';
import { investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { HoldBadge } from './hold-badge.js';
import { useHolds } from './holds.queries.js';

const states = ['open', ...holdState.options] as const;

/** What is held back and what was decided; open ones first. */
export function HoldListPage() {
  const { t } = useTranslation('holds');
  const [params, setParams] = useSearchParams();
  const state = states.find((each) => each === params.get('state'));
  const take = Math.min(200, Math.max(50, Number(params.get('take')) || 50));
  const list = useHolds({ state, take });
  const mayPlace = useMay(investigators);
  const start = mayPlace ? <Button component={Link} to="/holds/new" size="md">{t('new')}</Button> : null;
  return (
    <Page title={t('title')} actions={start}>
      <QueryView query={list} what={t('loading')}>
        {({ rows, total, open }) => (
          <Stack gap="md">
            <NativeSelect size="md" w={240} label={t('list.filter')} value={state ?? ''} data={[{ value: '', label: t('list.any') }, { value: 'open', label: t('list.open') }, ...holdState.options.map((value) => ({ value, label: t(`state.${value}`) }))]}
              onChange={({ currentTarget: { value } }) => setParams(value ? { state: value } : {}, { replace: true })} />
            {rows.length === 0 ? (state ? <EmptyState title={t('empty.title')} text={t('empty.filtered')} /> : <EmptyState title={t('empty.title')} text={t('empty.text')} action={start} />) : (
              <>
                <Text fw={600} role="status">{t('list.counts', { count: total, open })}</Text>
                <HoldTable rows={rows} />
                {rows.length < total && take < 200 ? <Button variant="default" size="md" onClick={() => setParams({ ...(state ? { state } : {}), take: String(take + 50) }, { replace: true })}>{t('list.more')}</Button> : null}
              </>
            )}
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

function HoldTable({ rows }: { rows: readonly HoldRow[] }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const cans = ({ suspectCans, openEnded }: HoldRow) => (suspectCans === null ? t('list.notCounted') : openEnded ? t('list.atLeast', { cans: format.number(suspectCans, 0) }) : format.number(suspectCans, 0));
  return (
    <Table.ScrollContainer minWidth={760}>
      <Table striped verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['hold', 'state', 'line', 'span', 'cans', 'pallets', 'opened'] as const).map((column) => <Table.Th key={column}>{t(`list.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {rows.map((row) => (
            <Table.Tr key={row.id}>
              <Table.Td><Anchor component={Link} to={`/holds/${row.id}`} underline="always">{t('list.name', { id: row.id })}</Anchor></Table.Td>
              <Table.Td><HoldBadge hold={row} /></Table.Td>
              <Table.Td>{[row.line, row.machine, row.unit, row.lane].filter(Boolean).join(' ')}</Table.Td>
              <Table.Td>{t('list.to', { from: format.dateTime(row.from), until: format.dateTime(row.until) })}</Table.Td>
              <Table.Td>{cans(row)}</Table.Td>
              <Table.Td>{row.pallets === 0 ? '–' : row.palletsLeft === 0 ? row.pallets : t('list.left', { left: row.palletsLeft, all: row.pallets })}</Table.Td>
              <Table.Td>{t('list.by', { name: row.openedBy, at: format.dateTime(row.openedAt) })}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
