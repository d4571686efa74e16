import type { TFunction } from 'i18next';
import type { SignalGroup } from './signal-groups.js';
import type { Panel } from './workbench-chart.figure.js';

/** What a rule saw on a panel, in one sentence with numbers and units. */
export function groupSentence(t: TFunction<'workbench'>, group: SignalGroup, panel: Panel, say: (value: number | null | undefined) => string): string {
  const { rule, side, first, last, count } = group;
  const limits = side === 'below' ? panel.lower : panel.upper;
  const values = { value: say(panel.points[last]), limit: say(limits[last]), centre: say(panel.centre[last]), count, length: lengthOf(panel, first, last) };
  if (rule === 'beyond-limits') return t(count > 1 ? `signals.beyondMany.${side}` : `signals.beyond.${side}`, values);
  if (rule === 'fourteen-alternating') return t('signals.alternating', values);
  if (rule === 'fifteen-inside') return t('signals.inside', values);
  if (rule === 'eight-outside' || side === 'both') return t('signals.outside', values);
  if (rule === 'six-in-a-trend') return t(`signals.trend.${side}`, values);
  if (rule === 'two-of-three') return t(`signals.two.${side}`, values);
  return t(rule === 'four-of-five' ? `signals.four.${side}` : `signals.run.${side}`, values);
}

/** Points of the pattern that hold a value; gaps end patterns, so there are none within. */
const lengthOf = (panel: Panel, first: number, last: number): number => panel.points.slice(first, last + 1).filter((value) => value !== null).length;
