import { mean } from '../numeric/mean.js';
import { chartConstants } from './constants.js';
import { type LimitsBasis, requireFiniteBasis, usable, weightedCentre } from './limits-basis.js';
import type { SubgroupStatistics } from './subgroup.js';

/**
 * Baseline of a chart of means and standard deviations. Equal sizes: sigma = sbar/c4(n). Unequal sizes: the pooled
 * sd, weights n_i-1, as it stands (its own bias, 1-c4 of the pooled degrees of freedom, is below 1 % from 26 of them).
 * A subgroup of one reading counts for the centre line only.
 * Source: Montgomery, Introduction to Statistical Quality Control, "Control charts for X-bar and S", and there
 * "with variable sample size" for the pooling.
 * @throws RangeError under two subgroups of two or more readings; sigma is 0 when nothing varies
 */
export function xbarSBaseline(subgroups: readonly SubgroupStatistics[]): LimitsBasis {
  const caller = 'baselineLimits (xbar-s)';
  const present = usable(subgroups, caller);
  const spread = present.flatMap(({ n, sd }) => (sd === null || n < 2 ? [] : [{ n, sd }]));
  const [first] = spread;
  if (first === undefined || spread.length < 2) throw new RangeError(`${caller}: needs at least 2 subgroups of 2 or more readings, ${spread.length} given`);
  const { centre, readings } = weightedCentre(present);
  const spreadCentre = mean(spread.map(({ sd }) => sd));
  const sigma = spread.every(({ n }) => n === first.n) ? spreadCentre / chartConstants(first.n).c4 : pooled(spread);
  return requireFiniteBasis({ kind: 'xbar-s', centre, sigma, spreadCentre, subgroups: present.length, readings });
}

function pooled(spread: readonly { n: number; sd: number }[]): number {
  let squares = 0;
  let freedom = 0;
  for (const { n, sd } of spread) {
    squares += (n - 1) * sd * sd;
    freedom += n - 1;
  }
  return Math.sqrt(squares / freedom);
}
