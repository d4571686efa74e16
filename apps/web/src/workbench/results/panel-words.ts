import type { TFunction } from 'i18next';
import type { Format } from '../../shared/format.js';
import type { ChartAnswer, Panel, PanelWords } from './workbench-chart.figure.js';
import { chartText } from '../../shared/chart-text.js';

type Words = TFunction<'workbench'>;
export type Ground = { decimals: number; unit: string; names: readonly string[] | null; format: Format };

const COUNTED: ReadonlySet<Panel['statistic']> = new Set(['np', 'c', 'gap']);
const UNITLESS: ReadonlySet<Panel['statistic']> = new Set(['p', 'np', 'c', 'u', 'gap']);

/** Digits after the point: means are known finer than readings, shares finer still. */
export function decimalsFor(statistic: Panel['statistic'], decimals: number): number {
  if (statistic === 'p' || statistic === 'u') return 4;
  return COUNTED.has(statistic) ? 1 : decimals + 1;
}

/** A number of a panel with its unit. */
export const saysOf = (panel: Panel, { decimals, unit, format }: Ground) => (value: number | null | undefined): string => {
  const digits = decimalsFor(panel.statistic, decimals);
  return unit === '' || UNITLESS.has(panel.statistic) ? format.number(value, digits) : format.withUnit(value, digits, unit);
};


export const pointName = (t: Words, names: readonly string[] | null, index: number): string => {
  const name = names?.[index];
  return name ? t('chart.read.named', { number: index + 1, name }) : t('chart.read.point', { number: index + 1 });
};

/** The words of one panel: its axis, the values at its edge, what each point says. Rules are looked up once, not once a point. */
export function panelWords(t: Words, ground: Ground, panel: Panel): PanelWords & { read: (index: number) => string } {
  const { unit, names, format } = ground;
  const say = saysOf(panel, ground);
  const name = t(`chart.statistic.${panel.statistic}`);
  const digits = decimalsFor(panel.statistic, ground.decimals);
  const rules = new Map<number, string[]>();
  for (const { index, rule } of panel.firings) rules.set(index, [...(rules.get(index) ?? []), t('chart.read.rule', { rule: t(`chart.rule.${rule}`) })]);
  const bound = (value: number | null | undefined) => (value == null ? t('chart.read.noLimit') : say(value));
  const parts = (index: number): string[] => {
    const value = panel.points[index] ?? null;
    if (value === null) return [t('chart.read.missing', { name })];
    return [t('chart.read.value', { name, value: say(value) }), t('chart.read.limits', { lower: bound(panel.lower[index]), upper: bound(panel.upper[index]) }), ...(rules.get(index) ?? [])];
  };
  const edge = (key: 'upper' | 'centre' | 'lower') => (value: number) => t(`chart.edge.${key}`, { value: format.number(value, digits) });
  return {
    axis: chartText(unit === '' || UNITLESS.has(panel.statistic) ? name : t('chart.axisUnit', { name, unit })), points: name,
    upper: edge('upper'), centre: edge('centre'), lower: edge('lower'),
    point: (index) => [pointName(t, names, index), ...parts(index)].map(chartText).join('<br>'),
    read: (index) => parts(index).join(', '),
  };
}

/** What the points of a chart are called on its axis. */
export function axisName(t: Words, answer: ChartAnswer): string {
  switch (answer.kind) {
    case 'i-mr': return t('chart.point');
    case 'g': case 't': return t('chart.event');
    case 'p': case 'np': case 'p-prime': case 'c': case 'u': case 'u-prime': return t('chart.sample');
    default: return t('chart.subgroup');
  }
}
