import { Anchor, Button, Group, NativeSelect, Stack, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { studyKind, type StudyRecordListed, studyRecordState } from '#contract/capability-studies';
import { correctors, investigators } from '#contract/roles';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { StudyState } from './study-state.js';
import { useStudyRecords } from './study-records.queries.js';

const PAGE = 50;

/** Studies that somebody answers for, newest first, each with its state. */
export function StudiesPage() {
  const { t } = useTranslation('studyRecords');
  const [params, changeParams] = useAddressParams();
  const [kind, state] = [studyKind.safeParse(params.get('kind')).data, studyRecordState.safeParse(params.get('state')).data];
  const before = Number(params.get('before')) || undefined;
  const list = useStudyRecords({ kind, state, before });
  const [mayPlan, mayCompare] = [useMay(correctors), useMay(investigators)];
  const change = (name: string, value: string) => changeParams((now) => { now.delete('before'); if (value) now.set(name, value); else now.delete(name); return now; }, { replace: true });
  const actions = (
    <>
      {mayPlan ? <Button component={Link} to="/studies/new-gauge-study" size="md">{t('newGauge')}</Button> : null}
      {mayCompare ? <Button component={Link} to="/studies/new-before-after" size="md" variant="default">{t('newBeforeAfter')}</Button> : null}
      <Button component={Link} to="/capability" size="md" variant="default">{t('toCapability')}</Button>
      <Button component={Link} to="/studies/gauges" size="md" variant="default">{t('gauges')}</Button>
    </>
  );
  return (
    <Page title={t('title')} actions={actions}>
      <Text maw={800}>{t('intro')}</Text>
      <Group gap="sm">
        <NativeSelect size="md" label={t('filter.kind')} value={kind ?? ''} data={[{ value: '', label: t('filter.any') }, ...studyKind.options.map((value) => ({ value, label: t(`kind.${value}`) }))]} onChange={({ currentTarget: { value } }) => change('kind', value)} />
        <NativeSelect size="md" label={t('filter.state')} value={state ?? ''} data={[{ value: '', label: t('filter.any') }, ...studyRecordState.options.map((value) => ({ value, label: t(`state.${value}`) }))]} onChange={({ currentTarget: { value } }) => change('state', value)} />
      </Group>
      <QueryView query={list} what={t('loading')} isEmpty={({ studies }) => studies.length === 0} empty={<EmptyState title={t('empty.title')} text={t(kind || state ? 'empty.filtered' : 'empty.text')} />}>
        {({ studies }) => (
          <Stack gap="md">
            <StudyTable studies={studies} />
            {studies.length === PAGE ? <Button variant="default" size="md" w="max-content" onClick={() => changeParams((now) => { now.set('before', String(studies.at(-1)?.id)); return now; })}>{t('list.more')}</Button> : null}
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

function StudyTable({ studies }: { studies: readonly StudyRecordListed[] }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  return (
    <Table.ScrollContainer minWidth={820}>
      <Table striped verticalSpacing="xs">
        <Table.Caption>{t('list.caption')}</Table.Caption>
        <Table.Thead><Table.Tr>{(['study', 'kind', 'of', 'state', 'verdict', 'made'] as const).map((column) => <Table.Th key={column} scope="col">{t(`list.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {studies.map((study) => (
            <Table.Tr key={study.id}>
              <Table.Td><Anchor component={Link} to={`/studies/${study.id}`} underline="always">{t('name', { id: study.id })}</Anchor><Text size="sm">{study.title}</Text></Table.Td>
              <Table.Td>{t(`kind.${study.kind}`)}</Table.Td>
              <Table.Td>{[study.characteristic.name, study.machine?.code, study.product?.code, study.gauge?.code].filter(Boolean).join(', ')}</Table.Td>
              <Table.Td><StudyState study={study} /></Table.Td>
              <Table.Td>{study.verdict ? t(`verdict.${study.verdict}`) : null}</Table.Td>
              <Table.Td>{t('list.by', { name: study.author, at: format.dateTime(study.createdAt) })}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
