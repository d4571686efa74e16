import { Anchor, Checkbox, Group, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { ReviewEntry } from '#contract/records';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { standsOut } from './left-checks.js';

/** One row a check, with what stands out in it. `left` holds those that the person does not want to sign now. */
export function ReviewTable({ entries, maySign, personId, left, onChoose }: { entries: readonly ReviewEntry[]; maySign: boolean; personId: number; left: ReadonlySet<number>; onChoose: (checkIds: readonly number[], chosen: boolean) => void }) {
  const { t } = useTranslation('records');
  const format = useFormat();
  const signable = entries.filter((entry) => entry.enteredBy.id !== personId);
  const none = signable.every((entry) => left.has(entry.checkId));
  const all = signable.every((entry) => !left.has(entry.checkId));
  return (
    <Table.ScrollContainer minWidth={820}>
      <Table verticalSpacing="xs">
        <Table.Caption>{t('table.caption')}</Table.Caption>
        <Table.Thead><Table.Tr>
          {maySign ? <Table.Th><Checkbox size="md" aria-label={t('table.chooseAll')} checked={all && signable.length > 0} indeterminate={!all && !none} onChange={() => onChoose(signable.map((entry) => entry.checkId), !all)} /></Table.Th> : null}
          {(['check', 'taken', 'where', 'product', 'by', 'found'] as const).map((column) => <Table.Th key={column}>{t(`table.${column}`)}</Table.Th>)}
        </Table.Tr></Table.Thead>
        <Table.Tbody>{entries.map((entry) => {
          const own = entry.enteredBy.id === personId;
          return (
            <Table.Tr key={entry.checkId}>
              {maySign ? <Table.Td>{own ? null : <Checkbox size="md" aria-label={t('table.choose', { id: entry.checkId })} checked={!left.has(entry.checkId)} onChange={() => onChoose([entry.checkId], left.has(entry.checkId))} />}</Table.Td> : null}
              <Table.Td><Anchor component={Link} to={`/checks/${entry.checkId}`} underline="always">{t('table.name', { id: entry.checkId })}</Anchor></Table.Td>
              <Table.Td>{format.dateTime(entry.takenAt)}</Table.Td>
              <Table.Td>{entry.line} {entry.machine}</Table.Td>
              <Table.Td>{entry.product}</Table.Td>
              <Table.Td>{entry.enteredBy.name}{own ? <Text size="sm" c="dimmed">{t('table.own')}</Text> : null}</Table.Td>
              <Table.Td>
                <Group gap="sm">
                  {standsOut(entry) ? null : <Text c="dimmed">{t('table.nothing')}</Text>}
                  {entry.outsideSpecification > 0 ? <Text fw={600}>{t('table.outside', { count: entry.outsideSpecification })}</Text> : null}
                  {entry.signals.map((id) => <Anchor key={id} component={Link} to={`/signals/${id}`} underline="always"><StateBadge state="signal" word={t('table.signal', { id })} /></Anchor>)}
                  {entry.corrected ? <Text>{entry.reviewedBefore ? t('table.again') : t('table.corrected')}</Text> : null}
                </Group>
              </Table.Td>
            </Table.Tr>
          );
        })}</Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
