import { runRules } from './run-rules.js';
import type { Firing, RuleName } from './verdict.js';

export { judgeSeries } from './judge-series.js';
export type { JudgedPoint, SeriesPoint } from './judge-series.js';

/**
 * Every firing of the rules over a series of z values, in order of the points; null is a gap and empties all windows.
 * Patterns overlap and nothing restarts after a signal: each (rule, side, point) is listed once.
 * Rules 2 to 4 assume a roughly symmetric, independent statistic: means and individuals, not ranges, sds or counts.
 * @throws RangeError when a z is NaN or infinite (1-based position is named); NaN must never read as steady
 */
export function evaluateRules(z: readonly (number | null)[], rules: readonly RuleName[]): Firing[] {
  const judge = runRules(rules);
  return z.flatMap((value, index) => judge(value, index));
}
