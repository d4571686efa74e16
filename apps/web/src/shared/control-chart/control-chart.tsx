import { Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { ChartView } from '#contract/specifications';
import { EmptyState, QueryView } from '../states.js';
import { ChartPicture } from './chart-picture.js';
import { useChart } from './control-chart.queries.js';
import { useSelectedOptions } from './selected-options.js';
import { PointReader } from './point-reader.js';

export type ControlChartProps = { streamId: number; last?: number; from?: string; to?: string; height?: number };

/** One stream's chart, complete: fetches, says when there is nothing or nothing is judged, and can be read by keyboard. */
export function ControlChart({ streamId, last, from, to, height }: ControlChartProps) {
  const { t } = useTranslation('specifications');
  const chart = useChart(streamId, { last, from, to });
  return (
    <QueryView query={chart} what={t('chart.loading')} isEmpty={({ points }) => points.takenAt.length === 0} empty={<EmptyState title={t('none.title')} text={t('none.text')} />}>
      {(view) => <Chart key={view.stream.id} view={view} height={height} />}
    </QueryView>
  );
}

function Chart({ view, height }: { view: ChartView; height?: number }) {
  const { t } = useTranslation('specifications');
  const [chosen, setSelected] = useState<number | null>(null);
  const selected = chosen !== null && chosen < view.points.takenAt.length ? chosen : null;
  return (
    <Stack gap="xs">
      {view.points.status.every((status) => status === 'not-judged') ? <Text>{t('notJudged.text')}</Text> : null}
      <ChartPicture view={view} height={height} options={useSelectedOptions(selected)} onPoint={setSelected} />
      <PointReader view={view} selected={selected} onSelect={setSelected} />
    </Stack>
  );
}
