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

/** A sentence of the catalogue, asked for once with holes in it, and then filled as often as needed. A hole is a character that no text holds. */
function withHoles(say: (hole: (place: number) => string) => string): (...values: string[]) => string {
  const pieces = say((place) => `\uE000${place}\uE000`).split('\uE000');
  return (...values) => pieces.map((piece, index) => (index % 2 === 1 ? values[Number(piece)] ?? '' : piece)).join('');
}

/** The sentences of one chart. `point` is what hovering shows and what the keyboard reads aloud. */
export function chartWords(t: ChartText, format: Format, view: ChartView): ChartWords & { read: (index: number) => string } {
  const { stream, points, firings, events } = view;
  const { unit } = stream.characteristic;
  const decimals = meanDecimals(stream);
  const value = (number: number | null | undefined) => format.withUnit(number, decimals, unit);
  const lines = linesOfPoints(view);
  const rules = new Map<number, string[]>();
  for (const { index, chart, rule, side } of firings) rules.set(index, [...(rules.get(index) ?? []), t('point.rule', { chart: chart === 'mean' ? t('chart.mean') : t(`spread.${stream.chartKind}`), rule: t(`rules.${rule}`), side: t(`sides.${side}`) })]);
  // A year's chart says eight thousand sentences before it is drawn: what the catalogue says is asked for once, and filled in.
  const meanSaid = withHoles((hole) => t('point.mean', { value: hole(0), n: hole(1) }));
  const spreadSaid = withHoles((hole) => t('point.spread', { name: t(`spread.${stream.chartKind}`), value: hole(0) }));
  const limitsSaid = new Map<object, string>();
  const limitsOf = (band: { lower: number; upper: number }): string => {
    const known = limitsSaid.get(band) ?? t('point.limits', { lower: format.number(band.lower, decimals), upper: value(band.upper) });
    limitsSaid.set(band, known);
    return known;
  };
  const statusSaid = { steady: t('point.status.steady'), signal: t('point.status.signal'), 'not-judged': t('point.status.not-judged') };
  const parts = (index: number): string[] => {
    const band = lines[index]?.mean;
    return [
      format.dateTime(points.takenAt[index] ?? ''),
      meanSaid(value(points.mean[index]), String(points.n[index] ?? 0)),
      spreadSaid(value(points.spread[index])),
      ...(band ? [limitsOf(band)] : []),
      statusSaid[points.status[index] ?? 'not-judged'],
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
