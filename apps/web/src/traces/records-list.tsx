import { Anchor, Button, Table, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { Surrounding } from '#contract/incidents';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { keyOf, recordWords, sourceOf } from './record-words.js';

const AT_FIRST = 60;

/** The records of the timeline in words, in their order: for reading and for the keyboard. `chosen` is the record that was pointed at in the chart. */
export function RecordsList({ entries, chosen }: { entries: readonly Surrounding[]; chosen: string | null }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const [all, setAll] = useState(false);
  const latest = entries.slice(-AT_FIRST);
  const shown = all || (chosen !== null && !latest.some((entry) => keyOf(entry) === chosen)) ? entries : latest;
  return (
    <>
      <Table.ScrollContainer minWidth={720}>
        <Table verticalSpacing="xs">
          <Table.Thead><Table.Tr>{(['at', 'shift', 'machine', 'what', 'gauges'] as const).map((head) => <Table.Th key={head} scope="col">{t(`records.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {shown.map((entry) => {
              const source = sourceOf(entry);
              return (
                <Table.Tr key={keyOf(entry)} id={keyOf(entry)} bg={keyOf(entry) === chosen ? 'var(--mantine-color-default-hover)' : undefined}>
                  <Table.Th scope="row">{format.dateTime(entry.at)}</Table.Th>
                  <Table.Td>{entry.shift ?? '–'}</Table.Td>
                  <Table.Td>{entry.machine ?? t('records.wholeLine')}</Table.Td>
                  <Table.Td>{source ? <Anchor component={Link} to={source} underline="always" display="inline-block" py={4}>{recordWords(t, entry)}</Anchor> : entry.kind === 'missed' ? <><StateBadge state="due" word={t('records.missed')} /> {recordWords(t, entry)}</> : <Text>{recordWords(t, entry)}</Text>}</Table.Td>
                  <Table.Td>{entry.kind === 'check' && entry.gauges.length > 0 ? entry.gauges.map(({ code, overdue }) => <Text key={code} size="sm">{overdue ? t('records.overdueGauge', { code }) : code}</Text>) : '–'}</Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {shown.length < entries.length ? <Button variant="default" size="md" onClick={() => setAll(true)}>{t('records.all', { count: entries.length })}</Button> : null}
    </>
  );
}
