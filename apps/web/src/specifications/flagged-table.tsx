import { Button, Paper, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { ChartView } from '#contract/specifications';
import { meanDecimals } from '../shared/control-chart/chart-words.js';
import { useFormat } from '../shared/format.js';

const MOST = 100;
const isState = (state: string): state is 'open' | 'acknowledged' | 'cause-assigned' | 'closed' => ['open', 'acknowledged', 'cause-assigned', 'closed'].includes(state);

/** Every point that carries a signal, newest first: what the markers say, without a mouse. */
export function FlaggedTable({ view, onSelect }: { view: ChartView; onSelect: (index: number) => void }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const { stream, points, firings } = view;
  const rows = [...firings].sort((a, b) => b.index - a.index).slice(0, MOST);
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('flagged.title')}</Title>
      {rows.length === 0 ? <Text>{t('flagged.none')}</Text> : (
        <Table.ScrollContainer minWidth={640}>
          <Table>
            {firings.length > MOST ? <Table.Caption>{t('flagged.most', { count: MOST })}</Table.Caption> : null}
            <Table.Thead><Table.Tr>
              <Table.Th scope="col">{t('flagged.at')}</Table.Th><Table.Th scope="col">{t('flagged.rule')}</Table.Th><Table.Th scope="col">{t('flagged.value', { unit: stream.characteristic.unit })}</Table.Th><Table.Th scope="col">{t('flagged.signal')}</Table.Th><Table.Th scope="col">{t('flagged.show')}</Table.Th>
            </Table.Tr></Table.Thead>
            <Table.Tbody>
              {rows.map(({ index, chart, rule, side, signalId, signalState }) => {
                const at = format.dateTime(points.takenAt[index] ?? '');
                return (
                  <Table.Tr key={`${index}/${chart}/${rule}/${side}`}>
                    <Table.Th scope="row">{at}</Table.Th>
                    <Table.Td>{t('point.rule', { chart: chart === 'mean' ? t('chart.mean') : t(`spread.${stream.chartKind}`), rule: t(`rules.${rule}`), side: t(`sides.${side}`) })}</Table.Td>
                    <Table.Td>{format.number(chart === 'mean' ? points.mean[index] : points.spread[index], meanDecimals(stream))}</Table.Td>
                    <Table.Td><Link to={`/signals/${signalId}`}>{t('flagged.open', { id: signalId, state: isState(signalState) ? t(`signalStates.${signalState}`) : signalState })}</Link></Table.Td>
                    <Table.Td><Button variant="default" size="sm" onClick={() => onSelect(index)} aria-label={`${t('flagged.show')}: ${at}`}>{t('flagged.show')}</Button></Table.Td>
                  </Table.Tr>
                );
              })}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </Paper>
  );
}
