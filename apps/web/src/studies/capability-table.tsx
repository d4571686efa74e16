import { Button, Paper, Table, Text, Title } from '@mantine/core';
import type { ReactNode } from 'react';
import { useTranslation } from 'react-i18next';
import type { CapabilityEntry, CapabilityStudy } from '#contract/studies';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { fineDecimals, ppmDecimals, rowKey, rowName, STABILITY_STATES } from './study-words.js';

type Column = { name: string; heading: string; value: (entry: CapabilityEntry) => ReactNode };

/** Every stream, worst first, then all pooled. */
export function CapabilityTable({ study, shown, onShow }: { study: CapabilityStudy; shown: CapabilityEntry; onShow: (row: number | 'pooled') => void }) {
  const { t } = useTranslation('studies');
  const columns = useColumns(study);
  const isWide = columns.length > 10;
  const rows = study.pooled ? [...study.streams, study.pooled] : study.streams;
  return (
    <Paper withBorder p="md" component="section" className="study-table">
      <Title order={2} size="h4">{t('table.title')}</Title>
      <Table.ScrollContainer minWidth={isWide ? 1500 : 900}>
        <Table withRowBorders>
          <Table.Caption>{t('table.caption', { percent: study.confidence * 100 })}</Table.Caption>
          <Table.Thead>
            <Table.Tr><Table.Th scope="col">{t('table.stream')}</Table.Th><Table.Th className="no-print" scope="col">{t('table.show')}</Table.Th>{columns.map(({ name, heading }) => <Table.Th key={name} scope="col">{heading}</Table.Th>)}</Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {rows.map((entry) => (
              <Table.Tr key={rowKey(entry)}>
                <Table.Th scope="row">{rowName(t, entry)}</Table.Th>
                <Table.Td className="no-print">
                  <Button size="sm" variant="default" disabled={entry === shown || !entry.histogram} onClick={() => onShow(rowKey(entry))} aria-label={`${entry === shown ? t('table.shown') : t('table.show')}: ${rowName(t, entry)}`}>{entry === shown ? t('table.shown') : t('table.show')}</Button>
                </Table.Td>
                {columns.map(({ name, value }) => <Table.Td key={name}>{value(entry)}</Table.Td>)}
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </Paper>
  );
}

function useColumns(study: CapabilityStudy): Column[] {
  const { t } = useTranslation('studies');
  const { number } = useFormat();
  const { unit, decimals } = study.characteristic;
  const fine = fineDecimals(decimals);
  const ppm = (value: number | null | undefined) => (value == null ? number(null, 0) : number(value, ppmDecimals(value)));
  const index = (name: 'cp' | 'cpk' | 'pp' | 'ppk'): Column => ({
    name, heading: t(`table.${name}`),
    value: ({ figures }) => <><Text fw={600}>{number(figures?.[name], 2)}</Text>{figures?.intervals[name] ? <Text size="xs" className="no-wrap">{t('table.interval', { low: number(figures.intervals[name].low, 2), high: number(figures.intervals[name].high, 2) })}</Text> : null}</>,
  });
  const isFraction = study.streams.some((entry) => entry.method === 'fraction');
  const columns: Column[] = [
    { name: 'stability', heading: t('table.stability'), value: ({ stability: { state } }) => <StateBadge state={STABILITY_STATES[state]} word={t(`table.states.${state}`)} /> },
    { name: 'n', heading: t('table.n'), value: ({ n, subgroups, corrected }) => <>{t('table.count', { n, subgroups })}{corrected > 0 ? <Text size="xs">{t('table.corrected', { count: corrected })}</Text> : null}</> },
  ];
  if (!isFraction) {
    columns.push(index('ppk'), { name: 'lower', heading: t('table.lower'), value: ({ figures }) => number(figures?.ppkLowerBound, 2) }, index('pp'), index('cpk'), index('cp'),
      { name: 'cpm', heading: t('table.cpm'), value: ({ figures }) => number(figures?.cpm, 2) },
      { name: 'mean', heading: t('table.mean', { unit }), value: ({ mean }) => number(mean, fine) },
      { name: 'sdWithin', heading: t('table.sdWithin', { unit }), value: ({ sdWithin }) => number(sdWithin, fine) },
      { name: 'sdOverall', heading: t('table.sdOverall', { unit }), value: ({ sdOverall }) => number(sdOverall, fine) },
      { name: 'expected', heading: t('table.expected'), value: ({ figures }) => t('table.sides', { below: ppm(figures?.expectedPpm.overall.below), above: ppm(figures?.expectedPpm.overall.above) }) });
  }
  columns.push(
    { name: 'observed', heading: t('table.observed'), value: ({ readingsOutside }) => t('table.sides', { below: number(readingsOutside.below, 0), above: number(readingsOutside.above, 0) }) },
    { name: 'outside', heading: t('table.outside'), value: ({ outside }) => (outside ? t('table.of', outside) : number(null, 0)) },
    { name: 'bound', heading: t('table.bound'), value: ({ outside }) => (outside ? t('table.percent', { value: number(outside.upperBound * 100, 2) }) : number(null, 0)) },
    { name: 'range', heading: t('table.range', { unit }), value: ({ minimum, maximum }) => t('table.span', { low: number(minimum, decimals), high: number(maximum, decimals) }) },
  );
  return columns;
}
