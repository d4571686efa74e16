import type { SubgroupStatistics } from './subgroup.js';

/** Shewhart charts for measured characteristics: means with ranges, means with sds, individuals with moving ranges. */
export type ChartKind = 'xbar-r' | 'xbar-s' | 'i-mr';

/** What is frozen when limits are set. From it the limits of a subgroup of any size follow, without the baseline. */
export type LimitsBasis = {
  readonly kind: ChartKind;
  /** Centre line of the plotted means, in the unit of the readings. */
  readonly centre: number;
  /** Sigma within subgroups of one charted reading; for 'i-mr' of one plotted individual. */
  readonly sigma: number;
  /** Mean range, mean sd or mean moving range of the baseline. */
  readonly spreadCentre: number;
  /** Subgroups and readings the baseline rests on. */
  readonly subgroups: number;
  readonly readings: number;
};

export type Limits = { readonly centre: number; readonly lower: number; readonly upper: number };

/** Subgroups that have a mean; an 'xbar' baseline also takes those of one reading, for the centre line only. */
export function usable(subgroups: readonly SubgroupStatistics[], caller: string): { n: number; mean: number; range: number | null; sd: number | null }[] {
  return subgroups.flatMap(({ n, mean, range, sd }, index) => {
    if (!Number.isSafeInteger(n) || n < 0) throw new RangeError(`${caller}: subgroup ${index + 1} has ${n} readings, a whole number of 0 or more is expected`);
    if (mean === null || n === 0) return [];
    for (const value of [n, mean, range, sd]) {
      if (value !== null && !Number.isFinite(value)) throw new RangeError(`${caller}: subgroup ${index + 1} holds ${String(value)}, finite numbers are expected`);
    }
    return [{ n, mean, range, sd }];
  });
}

/** The basis as it is. @throws RangeError when a figure of it is beyond the range of numbers */
export function requireFiniteBasis(basis: LimitsBasis): LimitsBasis {
  if (![basis.centre, basis.sigma, basis.spreadCentre, basis.subgroups, basis.readings].every(Number.isFinite)) throw new RangeError(`baselineLimits (${basis.kind}): needs readings whose sums are within the range of numbers, larger ones given`);
  return basis;
}

/** Centre line: sum of all readings over their number, so that a short subgroup weighs less (differences summed, see mean). @throws RangeError when none is given or the sum is beyond the range of numbers */
export function weightedCentre(subgroups: readonly { n: number; mean: number }[]): { centre: number; readings: number } {
  const origin = subgroups[0]?.mean ?? 0;
  let sum = 0;
  let readings = 0;
  for (const { n, mean } of subgroups) {
    sum += n * (mean - origin);
    readings += n;
  }
  const centre = origin + sum / readings;
  if (!(readings > 0 && Number.isFinite(readings) && Number.isFinite(centre))) throw new RangeError(`weightedCentre: needs readings whose sums are within the range of numbers, ${readings} of them given`);
  return { centre, readings };
}

/**
 * Whether a sigma is more than the rounding of the values it came from. "Exactly zero" allows for the last bits of means
 * that were divided: eight units of rounding of the centre line, far below any gauge step.
 */
export function varies(sigma: number, centre: number): boolean {
  return sigma > 8 * Number.EPSILON * Math.abs(centre);
}
