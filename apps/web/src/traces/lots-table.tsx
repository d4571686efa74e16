import { Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Trace, TraceLot } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { signed, timesWords } from './origin-words.js';

const LITTLE = 1.25;

/** Coils, wire and end lots that were on while the cans passed, and whether the readings moved just with them. */
export function LotsTable({ trace: { lots } }: { trace: Trace }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const said = ({ moved }: TraceLot): string => {
    if (moved === null) return t('lots.noReading');
    return moved.times < LITTLE ? t('lots.notMoved', { count: moved.points }) : t('lots.moved', { characteristic: moved.characteristic, size: signed(moved.size, 1), count: moved.points, times: timesWords(t, moved.times) });
  };
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('lots.title')}</Title>
      {lots.length === 0 ? <Text c="dimmed">{t('lots.none')}</Text> : (
        <Table.ScrollContainer minWidth={720}>
          <Table verticalSpacing="xs">
            <Table.Caption>{t('lots.caption')}</Table.Caption>
            <Table.Thead><Table.Tr>{(['machine', 'lot', 'use', 'readings'] as const).map((head) => <Table.Th key={head} scope="col">{t(`lots.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>
              {lots.map((lot) => (
                <Table.Tr key={lot.eventId}>
                  <Table.Th scope="row">{lot.machine.code}</Table.Th>
                  <Table.Td>{lot.text}<Text size="xs" c="dimmed">{t('lots.entry', { kind: lot.kind.replaceAll('-', ' ') })}</Text></Table.Td>
                  <Table.Td>{lot.until === null ? t('lots.open', { from: format.dateTime(lot.from) }) : t('lots.span', { from: format.dateTime(lot.from), until: format.dateTime(lot.until) })}</Table.Td>
                  <Table.Td>{said(lot)}</Table.Td>
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </section>
  );
}
