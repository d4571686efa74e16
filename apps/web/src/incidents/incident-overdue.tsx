import { Anchor, Paper, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { incidentStates } from '#contract/incident-shapes';
import type { IncidentRow } from '#contract/incidents';
import { useFormat } from '../shared/format.js';
import { ErrorState } from '../shared/states.js';
import { IncidentState } from './incident-state.js';
import { useOverdue } from './incident-life.queries.js';

const [HOUR, DAY] = [3_600_000, 86_400_000];

/** What should have been done by now stands before everything else; nothing is shown where nothing is overdue. */
export function IncidentOverdue() {
  const { t } = useTranslation('incidentLife');
  const overdue = useOverdue();
  if (overdue.isError) return <ErrorState error={overdue.error} retry={() => void overdue.refetch()} />;
  if (!overdue.data || overdue.data.rows.length === 0) return null;
  const { at, rows } = overdue.data;
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('overdue.title')}</Title>
      <Table.ScrollContainer minWidth={720}>
        <Table verticalSpacing="xs">
          <Table.Caption>{t('overdue.caption')}</Table.Caption>
          <Table.Thead><Table.Tr>{(['id', 'what', 'next', 'due'] as const).map((head) => <Table.Th key={head} scope="col">{t(`overdue.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>{rows.map((row) => <Row key={row.id} row={row} now={Date.parse(at)} />)}</Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </Paper>
  );
}

function Row({ row, now }: { row: IncidentRow; now: number }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const late = row.dueAt === null ? 0 : now - Date.parse(row.dueAt);
  const next = incidentStates[incidentStates.indexOf(row.state) + 1] ?? 'closed';
  return (
    <Table.Tr>
      <Table.Th scope="row"><Anchor component={Link} to={`/incidents/${row.id}`} underline="always" display="inline-block" py={6} aria-label={t('overdue.open', { id: row.id })}>{row.id}</Anchor></Table.Th>
      <Table.Td>{t('overdue.line', { customer: row.customer, defect: row.defectName })}<Text size="xs" c="dimmed">{row.line}</Text></Table.Td>
      <Table.Td>{t(`state.${next}`)}<div><IncidentState incident={row} /></div></Table.Td>
      <Table.Td>{row.dueAt === null ? '–' : format.dateTime(row.dueAt)}<Text size="xs" c="dimmed">{late >= DAY ? t('overdue.days', { count: Math.floor(late / DAY) }) : t('overdue.hours', { hours: Math.max(1, Math.floor(late / HOUR)) })}</Text></Table.Td>
    </Table.Tr>
  );
}
