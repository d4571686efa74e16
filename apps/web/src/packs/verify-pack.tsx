import { Button, Stack, Table, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { type PackDifference, type PackVerification, verifyPackEndpoint } from '#contract/packs';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { ErrorState } from '../shared/states.js';

const MOVED_SHOWN = 20;

/** Recomputes the pack when asked: it reads every reading of its period. */
export function VerifyPack({ id }: { id: number }) {
  const { t } = useTranslation('packs');
  const query = useQuery({ queryKey: ['packs', 'verification', id], queryFn: ({ signal }) => call(verifyPackEndpoint, { params: { id }, signal }), enabled: false, retry: false });
  return (
    <Stack component="section" gap="sm" aria-labelledby="pack-verify">
      <Title order={2} size="h4" id="pack-verify">{t('one.verify.title')}</Title>
      <Text maw={760}>{t('one.verify.text')}</Text>
      <Button variant="default" size="md" style={{ alignSelf: 'flex-start' }} loading={query.isFetching} onClick={() => void query.refetch()}>{t('one.verify.do')}</Button>
      {query.isFetching ? <Text role="status">{t('one.verify.running')}</Text> : query.isError ? <ErrorState error={query.error} /> : query.data ? <Found found={query.data} /> : null}
    </Stack>
  );
}

function Found({ found }: { found: PackVerification }) {
  const { t } = useTranslation('packs');
  const format = useFormat();
  const serious = found.differences.filter(({ kind }) => kind !== 'moved-on');
  const moved = found.differences.filter(({ kind }) => kind === 'moved-on');
  // The server lists what is serious first: where the list holds anything else, what it leaves out went on since.
  const unlisted = moved.length > 0 ? 0 : found.more;
  const movedUnlisted = moved.length > 0 ? Math.max(0, moved.length - MOVED_SHOWN) + found.more : 0;
  return (
    <Stack gap="xs">
      <Text fw={600} role="status">{found.equal ? t('one.verify.equal') : t('one.verify.differs', { count: serious.length + unlisted })}</Text>
      <Text>{t('one.verify.counts', { figures: format.number(found.figures, 0), readings: format.number(found.readings, 0), at: format.dateTime(found.at) })}</Text>
      {found.softwareVersion.pack === found.softwareVersion.now ? null : <Text>{t('one.verify.versions', found.softwareVersion)}</Text>}
      {serious.length > 0 ? <Differences differences={serious} /> : null}
      {unlisted > 0 ? <Text c="dimmed">{t('one.verify.more', { count: unlisted })}</Text> : null}
      {moved.length > 0 ? <><Text>{t('one.verify.moved')}</Text><Differences differences={moved.slice(0, MOVED_SHOWN)} /></> : null}
      {movedUnlisted > 0 ? <Text c="dimmed">{t('one.verify.more', { count: movedUnlisted })}</Text> : null}
    </Stack>
  );
}

function Differences({ differences }: { differences: readonly PackDifference[] }) {
  const { t } = useTranslation('packs');
  return (
    <Table.ScrollContainer minWidth={700}>
      <Table verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['where', 'what', 'pack', 'now'] as const).map((column) => <Table.Th key={column}>{t(`one.verify.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{differences.map(({ kind, where, pack, now }) => <Table.Tr key={`${kind} ${where}`}><Table.Td>{where}</Table.Td><Table.Td>{t(`one.kinds.${kind}`)}</Table.Td><Table.Td className="hash">{pack}</Table.Td><Table.Td className="hash">{now}</Table.Td></Table.Tr>)}</Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
