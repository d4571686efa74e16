import { useCallback, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { ChartView } from '#contract/specifications';
import { useFormat } from '../format.js';
import { Plot } from '../plot.js';
import { chartWords, placeName } from './chart-words.js';
import { type ChartOptions, controlChartFigure, MARKERS_UP_TO } from './control-chart.figure.js';

export type ChartPictureProps = { view: ChartView; height?: number; options?: ChartOptions; onPoint?: (index: number) => void };

/** A chart that was already fetched. `options` must keep its identity while nothing changes. */
export function ChartPicture({ view, height = 520, options, onPoint }: ChartPictureProps) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const ground = useMemo(() => ({ words: chartWords(t, format, view), wall: { points: view.points.takenAt.map(format.wall), events: view.events.map(({ at }) => format.wall(at)) } }), [view, t, format]);
  // A long line is thinned to the screen: where a person zooms in, it is thinned anew, until every point is there.
  const [seen, setSeen] = useState<[string, string] | null>(null);
  const long = view.points.takenAt.length > MARKERS_UP_TO;
  const figure = useMemo(() => {
    const baseline = options?.baseline ? { from: format.wall(options.baseline.from), to: format.wall(options.baseline.to) } : null;
    return controlChartFigure(view, ground.wall, ground.words, { ...options, baseline, seen: long ? seen : null });
  }, [view, ground, options, format, long, seen]);
  const hear = useCallback(({ customdata }: { customdata: unknown }) => { if (typeof customdata === 'number') onPoint?.(customdata); }, [onPoint]);
  const flagged = new Set(view.firings.map(({ index }) => index)).size;
  const label = t('chart.label', { name: view.stream.characteristic.name, place: placeName(t, view.stream), count: view.points.takenAt.length, flagged });
  return <Plot figure={figure} height={height} label={label} onPointClick={onPoint ? hear : undefined} onSpan={long ? setSeen : undefined} />;
}
