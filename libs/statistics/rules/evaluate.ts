import { runRules } from './run-rules.js';
import type { Firing, RuleName } from './verdict.js';

export { judgeSeries } from './judge-series.js';
export type { JudgedPoint, SeriesPoint } from './judge-series.js';

/**
 * Every firing of the rules over a series of z values, in order of the points; null is a gap and empties all windows.
 * Patterns overlap and nothing restarts after a signal: each (rule, side, point) is listed once.
 * All but 'beyond-limits' assume a roughly symmetric, independent statistic: see allowedRules.
 * @param changes 0-based positions of points before which a change was declared: what came before says nothing about them
 * @throws RangeError when a z is NaN or infinite (1-based position is named), a rule is not known, or a change lies
 * outside the series; NaN must never read as steady
 */
export function evaluateRules(z: readonly (number | null)[], rules: readonly RuleName[], changes: readonly number[] = []): Firing[] {
  const judge = runRules(rules);
  const outside = changes.find((index) => !Number.isInteger(index) || index < 0 || index >= z.length);
  if (outside !== undefined) throw new RangeError(`evaluateRules: needs changes at points 0 to ${z.length - 1} of the series, ${outside} given`);
  const changed = new Set(changes);
  return z.flatMap((value, index) => {
    if (changed.has(index)) judge(null, index);
    return judge(value, index);
  });
}
