import { Code, Group, NativeSelect, Stack, Table, Text, Title } from '@mantine/core';
import { type ReactNode, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { CanCodePattern } from '#contract/can-codes';
import { useFormat } from '../shared/format.js';
import { useStepWord } from '../shared/step-word.js';
import { linesWithVersions, piecesOf } from './pattern-versions.js';

/** Two versions of a line's pattern side by side, the newest two at first, with who made each and why. Nothing where no line has two. */
export function CanCodeVersions({ patterns }: { patterns: readonly CanCodePattern[] }) {
  const { t } = useTranslation('canMaking');
  const format = useFormat();
  const lines = linesWithVersions(patterns);
  const [chosen, setChosen] = useState({ line: '', older: '', newer: '' });
  const line = lines.find(({ lineId }) => String(lineId) === chosen.line) ?? lines[0];
  if (!line) return null;
  const versionOf = (id: string, place: number) => line.versions.find((version) => String(version.id) === id) ?? line.versions[place];
  const [newer, older] = [versionOf(chosen.newer, 0), versionOf(chosen.older, 1)];
  if (!newer || !older) return null;
  const options = line.versions.map(({ id, pattern, effectiveFrom }) => ({ value: String(id), label: t('versions.option', { pattern, from: format.dateTime(effectiveFrom) }) }));
  return (
    <Stack component="section" gap="xs" aria-labelledby="versions-title">
      <Title order={3} size="h5" id="versions-title">{t('versions.title')}</Title>
      <Group>
        <NativeSelect label={t('versions.line')} value={String(line.lineId)} data={lines.map(({ lineId, line: code }) => ({ value: String(lineId), label: code }))} onChange={({ currentTarget: { value } }) => setChosen({ line: value, older: '', newer: '' })} />
        <NativeSelect label={t('versions.older')} value={String(older.id)} data={options} onChange={({ currentTarget: { value } }) => setChosen({ ...chosen, older: value })} />
        <NativeSelect label={t('versions.newer')} value={String(newer.id)} data={options} onChange={({ currentTarget: { value } }) => setChosen({ ...chosen, newer: value })} />
      </Group>
      <Text size="sm" c="dimmed">{t('versions.legend')}</Text>
      <Compared older={older} newer={newer} />
    </Stack>
  );
}

const ROWS = ['pattern', 'codedAt', 'clock', 'from', 'until', 'example', 'made', 'why', 'retired'] as const;

function Compared({ older, newer }: { older: CanCodePattern; newer: CanCodePattern }) {
  const { t } = useTranslation('canMaking');
  const format = useFormat();
  const stepWord = useStepWord();
  const plain = (version: CanCodePattern): Record<(typeof ROWS)[number], string> => ({
    pattern: version.pattern, codedAt: stepWord(version.codedAtStepKind), clock: t('versions.minutes', { minutes: version.clockMinutes }), from: format.dateTime(version.effectiveFrom),
    until: version.effectiveUntil === null ? t('versions.noEnd') : format.dateTime(version.effectiveUntil), example: version.example, made: t('versions.by', { name: version.author, at: format.dateTime(version.createdAt) }),
    why: version.reason || t('versions.noReason'), retired: version.retiredAt === null ? t('versions.notRetired') : t('versions.retiredBy', { name: version.retiredBy, at: format.dateTime(version.retiredAt), reason: version.retiredReason || t('versions.noReason') }),
  });
  const [before, after] = [plain(older), plain(newer)];
  const pattern = (mine: string, other: string): ReactNode => <Code>{piecesOf(mine, other).map(({ text, at, differs }) => (differs ? <strong key={at} style={{ textDecoration: 'underline' }}>{text}</strong> : <span key={at}>{text}</span>))}</Code>;
  return (
    <Table.ScrollContainer minWidth={640}>
      <Table verticalSpacing="xs">
        <Table.Thead><Table.Tr><Table.Th>{t('versions.what')}</Table.Th><Table.Th>{t('versions.older')}</Table.Th><Table.Th>{t('versions.newer')}</Table.Th></Table.Tr></Table.Thead>
        <Table.Tbody>
          {ROWS.map((row) => (
            <Table.Tr key={row}>
              <Table.Th scope="row">{t(`versions.rows.${row}`)}{before[row] === after[row] ? '' : ` (${t('versions.changed')})`}</Table.Th>
              <Table.Td>{row === 'pattern' ? pattern(before.pattern, after.pattern) : before[row]}</Table.Td>
              <Table.Td>{row === 'pattern' ? pattern(after.pattern, before.pattern) : after[row]}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
