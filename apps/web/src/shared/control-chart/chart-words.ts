import type { TFunction } from 'i18next';
import type { ChartView, StreamView } from '#contract/specifications';
import type { Format } from '../format.js';
import { linesOfPoints } from './chart-lines.js';
import type { ChartWords } from './control-chart.figure.js';
import { chartText } from '../chart-text.js';

export type ChartText = TFunction<'specifications'>;

/** Machine, and unit and lane where these are kept apart. */
export function placeName(t: ChartText, { machine, unit, lane }: Pick<StreamView, 'machine' | 'unit' | 'lane'>): string {
  return [machine.code, unit ? t('place.unit', { code: unit.code }) : null, lane ? t('place.lane', { code: lane.code }) : null].filter((part) => part !== null).join(', ');
}

/** Means are known finer than single readings: one decimal more. */
export const meanDecimals = ({ characteristic }: Pick<StreamView, 'characteristic'>): number => characteristic.decimals + 1;

/** The sentences of one chart. `point` is what hovering shows and what the keyboard reads aloud. */
export function chartWords(t: ChartText, format: Format, view: ChartView): ChartWords & { read: (index: number) => string } {
  const { stream, points, firings, events } = view;
  const { unit } = stream.characteristic;
  const decimals = meanDecimals(stream);
  const value = (number: number | null | undefined) => format.withUnit(number, decimals, unit);
  const lines = linesOfPoints(view);
  const rules = new Map<number, string[]>();
  for (const { index, chart, rule, side } of firings) rules.set(index, [...(rules.get(index) ?? []), t('point.rule', { chart: chart === 'mean' ? t('chart.mean') : t(`spread.${stream.chartKind}`), rule: t(`rules.${rule}`), side: t(`sides.${side}`) })]);
  const parts = (index: number): string[] => {
    const status = points.status[index] ?? 'not-judged';
    const band = lines[index]?.mean;
    return [
      format.dateTime(points.takenAt[index] ?? ''),
      t('point.mean', { value: value(points.mean[index]), n: points.n[index] ?? 0 }),
      t('point.spread', { name: t(`spread.${stream.chartKind}`), value: value(points.spread[index]) }),
      ...(band ? [t('point.limits', { lower: format.number(band.lower, decimals), upper: value(band.upper) })] : []),
      t(`point.status.${status}`),
      ...(rules.get(index) ?? []),
    ];
  };
  return {
    mean: t('axis.mean', { name: stream.characteristic.name, unit }), spread: t('axis.spread', { name: t(`spread.${stream.chartKind}`), unit }), events: t('chart.events'),
    upper: (number) => t('edge.upper', { value: format.number(number, decimals) }), centre: (number) => t('edge.centre', { value: format.number(number, decimals) }), lower: (number) => t('edge.lower', { value: format.number(number, decimals) }),
    point: (index) => parts(index).map(chartText).join('<br>'),
    read: (index) => parts(index).join('. '),
    event: (index) => { const event = events[index]; return event ? chartText(t('chart.event', { at: format.dateTime(event.at), kind: event.kind, where: event.machine ?? t('chart.wholeLine'), text: event.text })) : ''; },
  };
}
