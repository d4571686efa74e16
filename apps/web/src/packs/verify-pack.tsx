import { Button, Stack, Table, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { type DifferenceClass, differenceClass, type PackDifference, type PackVerification, verifyPackEndpoint } from '#contract/packs';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { ErrorState } from '../shared/states.js';

const CLASSES: readonly DifferenceClass[] = ['serious', 'corrected', 'movedOn'];
/** What went on by itself is told shortly: it is work, no difference. */
const SHOWN: Record<DifferenceClass, number> = { serious: 100, corrected: 50, movedOn: 20 };

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
  const verdict = found.equal ? t('one.verify.equal') : found.serious > 0 ? t('one.verify.differs', { count: found.serious }) : t('one.verify.stale', { count: found.corrected });
  return (
    <Stack gap="xs">
      <Text fw={600} role="status">{verdict}</Text>
      <Text>{t('one.verify.counts', { figures: format.number(found.figures, 0), readings: format.number(found.readings, 0), at: format.dateTime(found.at) })}</Text>
      {found.softwareVersion.pack === found.softwareVersion.now ? null : <Text>{t('one.verify.versions', found.softwareVersion)}</Text>}
      {CLASSES.map((name) => {
        const listed = found.differences.filter(({ kind }) => differenceClass(kind) === name).slice(0, SHOWN[name]);
        if (found[name] === 0) return null;
        return (
          <Stack key={name} gap={4} component="section" aria-label={t(`one.verify.classes.${name}`, { count: found[name] })}>
            <Text fw={600}>{t(`one.verify.classes.${name}`, { count: found[name] })}</Text>
            <Text maw={760}>{t(`one.verify.means.${name}`)}</Text>
            <Differences differences={listed} />
            {found[name] > listed.length ? <Text c="dimmed">{t('one.verify.more', { count: found[name] - listed.length })}</Text> : null}
          </Stack>
        );
      })}
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
