import { mean } from '../numeric/mean.js';
import { chartConstants } from './constants.js';
import { type LimitsBasis, requireFiniteBasis, usable } from './limits-basis.js';
import type { SubgroupStatistics } from './subgroup.js';

/**
 * Moving ranges of span 2: |x_i - x_(i-1)|, null where either is missing, and null for the first.
 * In the unit of the readings. A range never reaches across a gap: the two ends may be hours apart.
 * @throws RangeError when a range is not finite (1-based positions are named)
 */
export function movingRanges(values: readonly (number | null)[]): (number | null)[] {
  return values.map((value, index) => {
    const before = index === 0 ? null : (values[index - 1] ?? null);
    if (value === null || before === null) return null;
    const range = Math.abs(value - before);
    if (!Number.isFinite(range)) throw new RangeError(`movingRanges: needs values whose difference is within the range of numbers, values ${index} and ${index + 1} are ${before} and ${value}`);
    return range;
  });
}

/**
 * Baseline of a chart of individuals and moving ranges: each subgroup is plotted as one value, its mean.
 * Sigma = MRbar/d2(2), of the plotted value. A subgroup without a mean is a gap and breaks the moving range.
 * Source: Montgomery, Introduction to Statistical Quality Control, "The Shewhart control chart for individual
 * measurements"; NIST/SEMATECH e-Handbook 6.3.2.2.
 * @throws RangeError when no two neighbouring subgroups have a mean; sigma is 0 when nothing varies
 */
export function individualsBaseline(subgroups: readonly SubgroupStatistics[]): LimitsBasis {
  const caller = 'baselineLimits (i-mr)';
  const present = usable(subgroups, caller);
  if (present.length < 2) throw new RangeError(`${caller}: needs at least 2 subgroups with a reading, ${present.length} given`);
  const ranges = movingRanges(subgroups.map((subgroup) => (subgroup.n === 0 ? null : subgroup.mean))).filter((range) => range !== null);
  if (ranges.length === 0) throw new RangeError(`${caller}: needs at least 2 neighbouring subgroups with a reading; every one given stands alone between gaps`);
  const centre = mean(present.map((subgroup) => subgroup.mean));
  const spreadCentre = mean(ranges);
  const sigma = spreadCentre / chartConstants(2).d2;
  const readings = present.reduce((sum, subgroup) => sum + subgroup.n, 0);
  return requireFiniteBasis({ kind: 'i-mr', centre, sigma, spreadCentre, subgroups: present.length, readings });
}
