import { Button, Group, NativeSelect, Paper, SimpleGrid, Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { ChartCompared, StreamListed } from '#contract/specifications';
import { meanDecimals, placeName } from '../shared/control-chart/chart-words.js';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { EmptyState, QueryView } from '../shared/states.js';
import { smallFigure } from './small-chart.figure.js';
import { useComparison } from './specifications.queries.js';

const LAST = 60;
type Where = 'sameMachine' | 'sameLine' | 'allLines';

/** The same characteristic over heads, machines or lines, all on one scale. */
export function CompareView({ stream, onOpen }: { stream: StreamListed; onOpen: (id: number) => void }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const [where, setWhere] = useState<Where>('sameLine');
  const { characteristic, product, line, machine } = stream;
  const comparison = useComparison({
    characteristic: characteristic.id, last: LAST,
    // Another line makes another product: over all lines the characteristic alone counts.
    ...(where === 'allLines' ? {} : { product: product.id, line: line.id }), ...(where === 'sameMachine' ? { machine: machine.id } : {}),
  });
  const number = (value: number) => format.withUnit(value, meanDecimals(stream), characteristic.unit);
  return (
    <Stack gap="sm">
      <NativeSelect size="md" w={240} label={t('compare.where')} value={where} data={(['sameMachine', 'sameLine', 'allLines'] as const).map((value) => ({ value, label: t(`compare.${value}`) }))}
        onChange={({ currentTarget: { value } }) => { if (value === 'sameMachine' || value === 'sameLine' || value === 'allLines') setWhere(value); }} />
      <QueryView query={comparison} what={t('compare.loading')} isEmpty={({ charts }) => charts.length === 0} empty={<EmptyState title={t('compare.none.title')} text={t('compare.none.text')} />}>
        {({ charts, scale, more }) => (
          <>
            {scale ? <Text>{t('compare.scale', { low: number(scale.low), high: number(scale.high), count: LAST })} {more ? t('compare.more') : null}</Text> : null}
            <SimpleGrid cols={{ base: 1, sm: 2, lg: 3 }} spacing="sm">
              {charts.map((chart) => <SmallChart key={chart.stream.id} chart={chart} scale={scale ?? { low: 0, high: 0 }} onOpen={onOpen} />)}
            </SimpleGrid>
          </>
        )}
      </QueryView>
    </Stack>
  );
}

function SmallChart({ chart, scale, onOpen }: { chart: ChartCompared; scale: { low: number; high: number }; onOpen: (id: number) => void }) {
  const { t } = useTranslation('specifications');
  const { t: common } = useTranslation('common');
  const format = useFormat();
  const { stream, mean, status, limits } = chart;
  const { width, height, path, lines, flags } = smallFigure(chart, scale);
  const place = [stream.line.code, placeName(t, stream), stream.product.code].join(', ');
  const state = status.at(-1) ?? 'not-judged';
  const value = format.withUnit(mean.at(-1), meanDecimals(stream), stream.characteristic.unit);
  return (
    <Paper withBorder p="sm" component="article">
      <Group justify="space-between" wrap="nowrap"><Text fw={600}>{place}</Text><StateBadge state={state} /></Group>
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" role="img" aria-label={t('compare.label', { place, value, state: common(`states.${state}`), flagged: flags.length, count: mean.length })}>
        {lines.map(({ y, centre }) => <line key={y} x1={0} x2={width} y1={y} y2={y} stroke="#0072b2" strokeWidth={1} strokeDasharray={centre ? undefined : '5 4'} />)}
        <path d={path} fill="none" stroke="currentColor" strokeWidth={1.5} opacity={0.75} />
        {flags.map(({ x, y }) => <path key={x} d={`M${x} ${y - 6}L${x + 6} ${y}L${x} ${y + 6}L${x - 6} ${y}Z`} fill="#d55e00" />)}
      </svg>
      <Group justify="space-between"><Text size="sm">{value}{limits === null ? `, ${t('compare.noLimits')}` : null}</Text><Button size="sm" variant="default" aria-label={`${t('compare.open')}: ${place}`} onClick={() => onOpen(stream.id)}>{t('compare.open')}</Button></Group>
    </Paper>
  );
}
