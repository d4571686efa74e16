import { Alert, Anchor, Button, Group, Progress, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { PackJobView, PackListed } from '#contract/packs';
import { engineers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useMay, usePerson } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { usePacks, useStopJob } from './packs.queries.js';

export function PackList() {
  const { t } = useTranslation('packs');
  const query = usePacks();
  const isAuditor = usePerson().role === 'auditor';
  return (
    <QueryView query={query} what={t('loading')}>{({ packs, jobs }) => (
      <Stack gap="md">
        {jobs.length > 0 ? <Jobs jobs={jobs} /> : null}
        <section aria-labelledby="packs-made">
          <Title order={2} size="h4" id="packs-made" pb="xs">{t('list.title')}</Title>
          {packs.length === 0 ? <Text c="dimmed">{isAuditor ? t('list.emptyAuditor') : t('list.empty')}</Text> : <Packs packs={packs} />}
        </section>
      </Stack>
    )}</QueryView>
  );
}

function Jobs({ jobs }: { jobs: readonly PackJobView[] }) {
  const { t } = useTranslation('packs');
  const [mayStop, stop] = [useMay(engineers), useStopJob()];
  return (
    <Stack component="section" gap="sm" aria-labelledby="packs-jobs" role="status">
      <Title order={2} size="h4" id="packs-jobs">{t('jobs.title')}</Title>
      {jobs.map((job) => {
        const { id, state, title, done, total } = job;
        if (state === 'failed') return <Alert key={id} color="gray">{t('jobs.failed', { title, error: job.error ?? '' })}</Alert>;
        if (state === 'cancelled') return <Text key={id} c="dimmed">{t('jobs.cancelled', { title })}</Text>;
        return (
          <Group key={id} gap="md" maw={760} wrap="nowrap">
            <Stack gap={4} style={{ flex: 1 }}>
              <Text>{state === 'waiting' || total === 0 ? t('jobs.waiting', { title }) : t('jobs.progress', { title, done, total })}</Text>
              <Progress value={total === 0 ? 0 : (100 * done) / total} aria-label={t('jobs.bar', { title })} />
            </Stack>
            {mayStop ? <Button variant="default" size="md" onClick={() => stop.mutate(id)}>{t('jobs.stop')}</Button> : null}
          </Group>
        );
      })}
    </Stack>
  );
}

const COLUMNS = ['name', 'customer', 'period', 'state', 'findings', 'made'] as const;

function Packs({ packs }: { packs: readonly PackListed[] }) {
  const { t } = useTranslation('packs');
  const format = useFormat();
  return (
    <Table.ScrollContainer minWidth={740}>
      <Table verticalSpacing="xs">
        <Table.Thead><Table.Tr>{COLUMNS.map((column) => <Table.Th key={column}>{t(`list.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{packs.map((pack) => (
          <Table.Tr key={pack.id}>
            <Table.Td><Anchor component={Link} to={`/packs/${pack.id}`} underline="always">{pack.title}</Anchor></Table.Td>
            <Table.Td>{pack.customer}</Table.Td>
            <Table.Td>{t('list.span', { from: format.date(pack.from), to: format.date(new Date(new Date(pack.to).getTime() - 1).toISOString()) })}</Table.Td>
            <Table.Td><Text>{t(`states.${pack.state}`)}</Text>{pack.stale ? <Text size="sm" fw={600}>{t('list.stale')}</Text> : null}</Table.Td>
            <Table.Td>{format.number(pack.findings, 0)}</Table.Td>
            <Table.Td>{t('list.by', { at: format.dateTime(pack.madeAt), name: pack.madeBy })}</Table.Td>
          </Table.Tr>
        ))}</Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
