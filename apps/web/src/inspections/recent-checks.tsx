import { Anchor, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { EmptyState, QueryView } from '../shared/states.js';
import { useRecentChecks } from './inspections.queries.js';

/** The last checks of a machine, each with the way to its page. */
export function RecentChecks({ machine }: { machine: { id: number; code: string; name: string } }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const query = useRecentChecks(machine);
  return (
    <section aria-labelledby="recent-title">
      <Title order={2} size="h4" id="recent-title">{t('recent.title', { machine: machine.name })}</Title>
      <QueryView query={query} what={t('recent.loading')} isEmpty={({ checks }) => checks.length === 0} empty={<EmptyState title={t('recent.empty')} text={t('recent.emptyText')} />}>
        {({ checks }) => (
          <Table.ScrollContainer minWidth={560}>
            <Table aria-labelledby="recent-title">
              <Table.Thead><Table.Tr>{(['check', 'taken', 'plan', 'inspector', 'state'] as const).map((head) => <Table.Th key={head} scope="col">{t(`recent.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
              <Table.Tbody>
                {checks.map((check) => (
                  <Table.Tr key={check.id}>
                    <Table.Th scope="row"><Anchor component={Link} to={`/checks/${check.id}`}>{check.id}</Anchor></Table.Th>
                    <Table.Td>{format.dateTime(check.takenAt)}</Table.Td>
                    <Table.Td>{check.plan ?? t('recent.noPlan')}</Table.Td>
                    <Table.Td>{check.inspector}</Table.Td>
                    <Table.Td>{check.voidedAt === null ? <StateBadge state={check.status} /> : <Text size="sm">{t('recent.voided')}</Text>}{check.corrected ? <Text size="xs" c="dimmed">{t('recent.corrected')}</Text> : null}</Table.Td>
                  </Table.Tr>
                ))}
              </Table.Tbody>
            </Table>
          </Table.ScrollContainer>
        )}
      </QueryView>
    </section>
  );
}
