import { Anchor, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { IncidentRow } from '#contract/incidents';
import { useFormat } from '../shared/format.js';
import { IncidentState } from './incident-state.js';

/** What is not dealt with carries the signal's shape and colour; closed ones are quiet. */
export function IncidentTable({ rows }: { rows: readonly IncidentRow[] }) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const format = useFormat();
  return (
    <Table.ScrollContainer minWidth={900}>
      <Table verticalSpacing="sm" highlightOnHover>
        <Table.Caption>{t('list.caption')}</Table.Caption>
        <Table.Thead>
          <Table.Tr>{(['id', 'state', 'received', 'customer', 'defect', 'place', 'line', 'made', 'leaking'] as const).map((head) => <Table.Th key={head} scope="col">{t(`list.${head}`)}</Table.Th>)}</Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {rows.map((row) => (
            <Table.Tr key={row.id}>
              <Table.Th scope="row"><Anchor component={Link} to={`/incidents/${row.id}`} underline="always" aria-label={t('list.open', { id: row.id })} py="xs">{row.id}</Anchor></Table.Th>
              <Table.Td><IncidentState incident={row} />{row.dueAt === null ? null : <Text size="xs" c="dimmed">{life('life.due', { at: format.date(row.dueAt) })}</Text>}</Table.Td>
              <Table.Td>{format.date(row.receivedAt)}</Table.Td>
              <Table.Td>{row.customer}<Text size="xs" c="dimmed">{t(`kind.${row.kind}`)}</Text></Table.Td>
              <Table.Td>{row.defectName}</Table.Td>
              <Table.Td>{row.leakPlace}</Table.Td>
              <Table.Td>{row.line}<Text size="xs" c="dimmed">{row.product}</Text></Table.Td>
              <Table.Td>{format.dateTime(row.madeAt)}</Table.Td>
              <Table.Td>{`${row.cansLeaking} / ${row.cansExamined}`}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
