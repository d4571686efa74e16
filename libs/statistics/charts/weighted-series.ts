import { estimateBaseline } from './estimate-baseline.js';
import { usable, varies, weightedCentre } from './limits-basis.js';
import type { SubgroupStatistics } from './subgroup.js';

/** What an EWMA or a CUSUM plots: values, the mean of all readings, sigma of one reading and of each plotted value. */
export type WeightedSeries = {
  readonly points: readonly (number | null)[];
  readonly centre: number;
  readonly sigma: number;
  readonly sigmas: readonly (number | null)[];
};

/**
 * Means of subgroups, or individuals where every subgroup has one reading, with the sigma of each: sigma/sqrt(n_i).
 * Sigma of one reading is Rbar/d2 of subgroups of two or more, MRbar/d2(2) of individuals, or the one given.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.1 and 6.3.2.2. Unit of the readings.
 * @throws RangeError when sigma is left out and cannot be had, or nothing varies
 */
export function weightedSeries(subgroups: readonly SubgroupStatistics[], sigma?: number): WeightedSeries {
  const present = usable(subgroups, 'weightedSeries');
  if (present.length === 0) throw new RangeError('weightedSeries: needs at least 1 reading, 0 given');
  if (sigma !== undefined && !(sigma > 0 && Number.isFinite(sigma))) throw new RangeError(`weightedSeries: needs a positive sigma, ${sigma} given`);
  const basis = sigma === undefined ? estimateBaseline(present.some(({ n }) => n > 1) ? 'xbar-r' : 'i-mr', subgroups) : null;
  if (basis !== null && !varies(basis.sigma, basis.centre)) throw new RangeError('weightedSeries: needs readings that differ, or a sigma; without variation no limits exist');
  const one = sigma ?? basis?.sigma ?? Number.NaN;
  const { centre } = weightedCentre(present);
  return { points: subgroups.map(({ mean }) => mean), centre, sigma: one, sigmas: subgroups.map(({ n }) => (n === 0 ? null : one / Math.sqrt(n))) };
}
