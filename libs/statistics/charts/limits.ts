import { chartConstants } from './constants.js';
import { estimateBaseline } from './estimate-baseline.js';
import { type ChartKind, type Limits, type LimitsBasis, varies } from './limits-basis.js';
import type { SubgroupStatistics } from './subgroup.js';

export type { ChartKind, Limits, LimitsBasis } from './limits-basis.js';

/**
 * The frozen basis of the limits from the subgroups of a baseline, in time order.
 * @throws RangeError, naming what is missing, when the baseline is too short or does not vary at all
 */
export function baselineLimits(kind: ChartKind, subgroups: readonly SubgroupStatistics[]): LimitsBasis {
  const basis = estimateBaseline(kind, subgroups);
  if (!varies(basis.sigma, basis.centre)) {
    throw new RangeError(`baselineLimits (${kind}): the baseline has no variation at the resolution of the gauge; readings that differ are needed for limits`);
  }
  return basis;
}

/** Three-sigma limits of one subgroup, in the unit of the readings; `mean.sigma` is the sigma of the plotted mean. */
export type SubgroupLimits = { readonly mean: Limits & { readonly sigma: number }; readonly spread: Limits | null };

/**
 * Limits for a subgroup of its own n readings: centre +- 3 sigma/sqrt(n) for the mean; D3, D4 times d2 sigma for a
 * range; B3, B4 times c4 sigma for an sd. Individuals: centre +- 3 sigma whatever n, moving range 0 to D4(2) MRbar.
 * With one reading the mean still has limits, the spread has none (null).
 * Source: ASTM MNL 7, Part 3; Montgomery, Introduction to Statistical Quality Control, ch. 6.
 * @throws RangeError when n is not a whole number of 1 or more, or the frozen sigma is not a positive number
 */
export function limitsForSize(limits: LimitsBasis, n: number): SubgroupLimits {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`limitsForSize: needs a whole number of readings, 1 or more, ${n} given`);
  const { kind, centre, sigma, spreadCentre, subgroups, readings } = limits;
  if (!(sigma > 0 && Number.isFinite(sigma) && [centre, spreadCentre, subgroups, readings].every(Number.isFinite))) {
    throw new RangeError(`limitsForSize: needs a finite centre and a positive sigma, centre ${centre}, sigma ${sigma}, spread ${spreadCentre} from ${readings} readings in ${subgroups} subgroups given`);
  }
  const individuals = kind === 'i-mr';
  const meanSigma = individuals ? sigma : sigma / Math.sqrt(n);
  const mean = { centre, lower: centre - 3 * meanSigma, upper: centre + 3 * meanSigma, sigma: meanSigma };
  // The upper limit of a spread is at most eight sigma for the sizes that have one.
  if (!Number.isFinite(Math.abs(centre) + 10 * sigma + 4 * spreadCentre)) throw new RangeError(`limitsForSize: needs limits within the range of numbers, centre ${centre} and sigma ${sigma} given lead beyond it`);
  if (individuals) return { mean, spread: { centre: spreadCentre, lower: 0, upper: chartConstants(2).D4 * spreadCentre } };
  if (n === 1) return { mean, spread: null };
  const factors = chartConstants(n);
  const [lower, middle, upper] = kind === 'xbar-r' ? [factors.D3, factors.d2, factors.D4] : [factors.B3, factors.c4, factors.B4];
  return { mean, spread: { centre: middle * sigma, lower: lower * middle * sigma, upper: upper * middle * sigma } };
}
