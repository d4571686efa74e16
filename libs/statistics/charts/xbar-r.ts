import { mean } from '../numeric/mean.js';
import { chartConstants } from './constants.js';
import { type LimitsBasis, requireFiniteBasis, usable, weightedCentre } from './limits-basis.js';
import type { SubgroupStatistics } from './subgroup.js';

/**
 * Baseline of a chart of means and ranges. Sigma = mean of R_i/d2(n_i), which for equal sizes is Rbar/d2(n);
 * subgroups whose range is 0 stay in. A subgroup of one reading counts for the centre line only.
 * Source: Montgomery, Introduction to Statistical Quality Control, "Control charts for X-bar and R";
 * unequal sizes after ASTM MNL 7, Part 3.
 * @throws RangeError under two subgroups of two or more readings; sigma is 0 when nothing varies
 */
export function xbarRBaseline(subgroups: readonly SubgroupStatistics[]): LimitsBasis {
  const caller = 'baselineLimits (xbar-r)';
  const present = usable(subgroups, caller);
  const spread = present.flatMap(({ n, range }) => (range === null || n < 2 ? [] : [{ n, range }]));
  if (spread.length < 2) throw new RangeError(`${caller}: needs at least 2 subgroups of 2 or more readings, ${spread.length} given`);
  const { centre, readings } = weightedCentre(present);
  const sigma = mean(spread.map(({ n, range }) => range / chartConstants(n).d2));
  return requireFiniteBasis({ kind: 'xbar-r', centre, sigma, spreadCentre: mean(spread.map(({ range }) => range)), subgroups: present.length, readings });
}
