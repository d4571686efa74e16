import { Paper, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { ChartView } from '#contract/specifications';
import { CompareVersions } from '../shared/compare-versions.js';
import { meanDecimals } from '../shared/control-chart/chart-words.js';
import { useFormat } from '../shared/format.js';

/** Who froze which limits, when, from what and why; the newest first. */
export function LimitsHistory({ view: { stream, limits } }: { view: ChartView }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const { t: portable } = useTranslation('portable');
  const decimals = meanDecimals(stream);
  const { unit } = stream.characteristic;
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('history.title')}</Title>
      {limits.length === 0 ? <Text>{t('history.none')}</Text> : (
        <Table.ScrollContainer minWidth={800}>
          <Table>
            <Table.Thead><Table.Tr>
              {[t('history.from'), t('history.baseline'), t('history.centre', { unit }), t('history.sigma', { unit }), t('history.by'), t('history.reason')].map((heading) => <Table.Th key={heading} scope="col">{heading}</Table.Th>)}
            </Table.Tr></Table.Thead>
            <Table.Tbody>
              {[...limits].reverse().map((entry) => (
                <Table.Tr key={entry.id}>
                  <Table.Th scope="row">{format.dateTime(entry.effectiveFrom)}</Table.Th>
                  <Table.Td>
                    {t('history.span', { from: format.dateTime(entry.baselineFrom), to: format.dateTime(entry.baselineTo) })}
                    <Text size="sm" c="dimmed">{[t('history.count', { subgroups: entry.subgroups, readings: entry.readings }), ...(entry.formula === null ? [] : [t('history.formula', { formula: entry.formula })])].join('; ')}</Text>
                    {entry.excluded.length > 0 ? (
                      <details><summary>{t('history.excluded', { count: entry.excluded.length })}</summary>{entry.excluded.map(({ takenAt, sequence, reason }) => <Text size="sm" key={`${takenAt}/${sequence}`}>{format.dateTime(takenAt)}: {reason}</Text>)}</details>
                    ) : null}
                  </Table.Td>
                  <Table.Td>{format.number(entry.centre, decimals)}</Table.Td>
                  <Table.Td>{format.number(entry.sigma, decimals + 1)}</Table.Td>
                  <Table.Td>{t('history.byAt', { author: entry.author, at: format.dateTime(entry.createdAt) })}</Table.Td>
                  <Table.Td>{entry.reason}</Table.Td>
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      {limits.length < 2 ? null : <CompareVersions title={portable('compare.title')} versions={[...limits].reverse().map((entry) => ({
        key: String(entry.id), label: portable('approval.limitVersion', { at: format.dateTime(entry.effectiveFrom) }), author: entry.author, at: entry.createdAt, reason: entry.reason,
        fields: { effectiveFrom: format.dateTime(entry.effectiveFrom), baseline: t('history.span', { from: format.dateTime(entry.baselineFrom), to: format.dateTime(entry.baselineTo) }), subgroups: entry.subgroups, readings: entry.readings, centre: format.withUnit(entry.centre, decimals, unit), sigma: format.withUnit(entry.sigma, decimals + 1, unit), formula: entry.formula, excluded: entry.excluded.map(({ takenAt, reason }) => `${format.dateTime(takenAt)}: ${reason}`) },
      }))} />}
    </Paper>
  );
}
