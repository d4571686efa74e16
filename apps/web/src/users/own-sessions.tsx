import { Button, Stack, Table, Text, Title } from '@mantine/core';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { endOwnSession, listOwnSessions, type OpenSession } from '#contract/sessions';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { browserOf } from './browser-of.js';

const key = ['own-sessions'] as const;

/** Where this account is signed in; one that is not known is ended here. */
export function OwnSessions() {
  const { t } = useTranslation('sessions');
  const query = useQuery({ queryKey: key, queryFn: ({ signal }) => call(listOwnSessions, { signal }) });
  return (
    <Stack component="section" aria-labelledby="own-sessions" gap="xs">
      <Title order={2} size="h4" id="own-sessions">{t('own.title')}</Title>
      <Text c="dimmed" maw={620}>{t('own.text')}</Text>
      <QueryView query={query} what={t('own.loading')}>{({ sessions }) => <Sessions sessions={sessions} />}</QueryView>
    </Stack>
  );
}

function Sessions({ sessions }: { sessions: readonly OpenSession[] }) {
  const { t } = useTranslation('sessions');
  const format = useFormat();
  const client = useQueryClient();
  const end = useMutation({ mutationFn: (session: string) => call(endOwnSession, { params: { session } }), onSettled: () => client.invalidateQueries({ queryKey: key }) });
  const whereOf = ({ agent, address }: OpenSession) => {
    const { browser, system } = browserOf(agent);
    if (!browser && !address) return t('own.unknown');
    return t('own.where', { browser: browser ?? t('own.someBrowser'), system: system ?? t('own.someSystem'), address: address || t('own.someAddress') });
  };
  return (
    <>
      {end.isError ? <ProblemList error={end.error} /> : null}
      <Table maw={900}>
        <Table.Thead><Table.Tr><Table.Th>{t('own.whereHead')}</Table.Th><Table.Th>{t('own.since')}</Table.Th><Table.Th>{t('own.active')}</Table.Th><Table.Th>{t('own.state')}</Table.Th><Table.Th>{t('own.act')}</Table.Th></Table.Tr></Table.Thead>
        <Table.Tbody>
          {sessions.map((session) => (
            <Table.Tr key={session.id}>
              <Table.Td>{whereOf(session)}</Table.Td><Table.Td>{format.dateTime(session.createdAt)}</Table.Td><Table.Td>{format.dateTime(session.activeAt)}</Table.Td>
              <Table.Td>{session.here ? t('own.here') : session.locked ? t('own.locked') : t('own.open')}</Table.Td>
              <Table.Td>{session.here ? null : <Button variant="default" size="sm" loading={end.isPending && end.variables === session.id} onClick={() => end.mutate(session.id)} aria-label={t('own.endOf', { where: whereOf(session), at: format.dateTime(session.createdAt) })}>{t('own.end')}</Button>}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </>
  );
}
