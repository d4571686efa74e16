import { Button, Group, Paper, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { ChartPoint, StreamView } from '#contract/specifications';
import { useChartPoint } from '../shared/control-chart/control-chart.queries.js';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { QueryView } from '../shared/states.js';

/** Everything that is kept of the chosen point. */
export function PointCard({ stream, point, onClose }: { stream: StreamView; point: { takenAt: string; sequence: number }; onClose: () => void }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const detail = useChartPoint(stream.id, point);
  return (
    <Paper withBorder p="md" component="section">
      <Group justify="space-between"><Title order={2} size="h4">{t('point.title', { at: format.dateTime(point.takenAt) })}</Title><Button variant="default" size="sm" onClick={onClose}>{t('point.close')}</Button></Group>
      <QueryView query={detail} what={t('point.loading')}>{(data) => <Detail stream={stream} point={data} />}</QueryView>
    </Paper>
  );
}

function Detail({ stream: { characteristic: { unit, decimals } }, point }: { stream: StreamView; point: ChartPoint }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const facts: [string, string][] = [
    [t('point.n'), String(point.n)], [t('point.low'), format.withUnit(point.low, decimals, unit)], [t('point.high'), format.withUnit(point.high, decimals, unit)],
    [t('point.inspector'), point.inspector], [t('point.gauge'), point.gauge ?? t('point.noGauge')], ...(point.formula === null ? [] : [[t('point.formula'), point.formula] as [string, string]]),
  ];
  return (
    <Stack gap="sm">
      <Group gap="lg"><StateBadge state={point.status} /><Link to={`/checks/${point.checkId}`}>{t('point.check', { id: point.checkId })}</Link>{facts.map(([name, value]) => <Text key={name}><Text span c="dimmed" size="sm">{name} </Text>{value}</Text>)}</Group>
      <Text>{point.specification === null ? t('point.noSpecification') : point.outsideSpecification > 0 ? t('point.outside', { count: point.outsideSpecification }) : t('point.inside')}</Text>
      <Table.ScrollContainer minWidth={320}>
        <Table>
          <Table.Caption>{t('point.readings', { unit })}</Table.Caption>
          <Table.Thead><Table.Tr><Table.Th scope="col">{t('point.can')}</Table.Th>{point.positions.map((position) => <Table.Th key={position} scope="col">{position}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>{point.cans.map(({ number, readings }) => <Table.Tr key={number}><Table.Th scope="row">{number}</Table.Th>{readings.map((reading, place) => <Table.Td key={point.positions[place]}>{format.number(reading, decimals)}</Table.Td>)}</Table.Tr>)}</Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {point.revisions.length > 0 ? <><Title order={3} size="h5">{t('point.revisions')}</Title>{point.revisions.map((entry) => <Text key={entry.revision} size="sm">{t('point.revision', { mean: format.withUnit(entry.mean, decimals + 1, unit), n: entry.n, at: format.dateTime(entry.replacedAt), by: entry.replacedBy, reason: entry.reason })}</Text>)}</> : null}
    </Stack>
  );
}
