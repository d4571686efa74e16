import { allowedRules, type PlottedStatistic } from '../rules/allowed-rules.js';
import { evaluateRules } from '../rules/evaluate.js';
import type { Firing, RuleName } from '../rules/verdict.js';
import type { Panel, Statistic } from './panel.js';

/** Statistics without a sigma to measure patterns by, or that carry all values before them: opting in is no use there. */
type LimitsOnly = Exclude<Statistic, PlottedStatistic>;
const LIMITS_ONLY: readonly Statistic[] = ['gap', 'time', 'cusum-above', 'cusum-below', 'highest', 'lowest'] satisfies LimitsOnly[];
const judgedByLimitsOnly = (statistic: Statistic): statistic is LimitsOnly => LIMITS_ONLY.includes(statistic);

/** Those of the rules that may judge a panel: see allowedRules; gaps, times, cumulative sums and extremes of heads by their limits only. */
export function rulesFor(statistic: Statistic, rules: readonly RuleName[], optIn = false): RuleName[] {
  const allowed = judgedByLimitsOnly(statistic) ? ['beyond-limits'] : allowedRules(statistic, optIn);
  return rules.filter((rule) => allowed.includes(rule));
}

/**
 * Every firing of the rules on a panel, in order of the points. "Beyond the limits" is judged by the limits of the
 * panel, whatever they are; patterns by z = (point - centre)/sigma of each point. A point without sigma is a gap.
 * @param changes 0-based positions of points before which a change was declared; no pattern reaches across one
 * @throws RangeError when a change lies outside the series or a point is so many sigmas out that z is beyond the range of numbers
 */
export function judgePanel(panel: Panel, rules: readonly RuleName[], optIn = false, changes: readonly number[] = []): Firing[] {
  const allowed = rulesFor(panel.statistic, rules, optIn);
  const wrong = panel.out.find(({ index }) => !Number.isSafeInteger(index));
  if (wrong !== undefined) throw new RangeError(`judgePanel: needs whole places of the points that are out, ${wrong.index} given`);
  const out: Firing[] = allowed.includes('beyond-limits') ? panel.out.map(({ index, side }) => ({ index, rule: 'beyond-limits', side, firstIndex: index })) : [];
  const patterns = allowed.filter((rule) => rule !== 'beyond-limits');
  if (patterns.length === 0) return out;
  const z = panel.points.map((point, index) => {
    const centre = panel.centre[index] ?? null;
    const sigma = panel.sigma[index] ?? null;
    return point === null || centre === null || sigma === null ? null : (point - centre) / sigma;
  });
  return [...out, ...evaluateRules(z, patterns, changes)].sort((a, b) => a.index - b.index);
}
