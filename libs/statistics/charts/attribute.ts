import { BEYOND_TOLERANCE, type Side } from '../rules/verdict.js';
import { chartConstants } from './constants.js';

/** One plotted proportion or count with the limits of its own sample size; limits are null when nothing varies. */
export type AttributePoint = { readonly value: number; readonly lower: number | null; readonly upper: number | null; readonly beyond: Side | null };

export type AttributeChart = {
  readonly centre: number;
  /** Laney's sigma_z, how many times the binomial spread the points really have; null where it was not asked for or cannot be had. */
  readonly sigmaZ: number | null;
  readonly points: readonly (AttributePoint | null)[];
};

/**
 * Chart of proportions defective, limits pbar +- 3 sqrt(pbar(1-pbar)/n_i), cut at 0 and 1; pbar = sum d / sum n.
 * With spread 'laney' the limits are widened (or narrowed) by sigma_z = mean |z_i - z_(i-1)| / d2(2): counts from large
 * samples vary more than binomial, because cans made together are good or bad together.
 * Source: Montgomery, Introduction to Statistical Quality Control, "Control charts for fraction nonconforming";
 * Laney 2002, "Improved control charts for attributes", Quality Engineering 14(4).
 * @param defectives whole counts, null = sample missing (no point, and no neighbour for sigma_z)
 * @param sizes sample size, one for all or one a sample
 * @throws RangeError when counts and sizes do not fit together (1-based position is named) or no sample is present
 */
export function pChart(defectives: readonly (number | null)[], sizes: number | readonly number[], spread: 'binomial' | 'laney' = 'binomial'): AttributeChart {
  const samples = pairUp(defectives, sizes, 'pChart');
  const centre = overallProportion(samples);
  const sigmaOf = (size: number): number => Math.sqrt((centre * (1 - centre)) / size);
  const sigmaZ = spread === 'laney' ? laneySigma(samples.map((s) => (s === null ? null : (s.count / s.size - centre) / sigmaOf(s.size)))) : null;
  const widen = spread === 'laney' ? sigmaZ : 1;
  const points = samples.map((s) => (s === null ? null : point(s.count / s.size, centre, widen === null ? 0 : widen * sigmaOf(s.size), 1)));
  return { centre, sigmaZ, points };
}

/**
 * Chart of numbers defective in samples of one size: n pbar +- 3 sqrt(n pbar (1-pbar)), cut at 0 and n.
 * Source: as for proportions. @throws RangeError as pChart
 */
export function npChart(defectives: readonly (number | null)[], size: number): AttributeChart {
  const samples = pairUp(defectives, size, 'npChart');
  const proportion = overallProportion(samples);
  const centre = size * proportion;
  const sigma = Math.sqrt(centre * (1 - proportion));
  return { centre, sigmaZ: null, points: samples.map((s) => (s === null ? null : point(s.count, centre, sigma, size))) };
}

/**
 * Chart of defects a unit of constant size: cbar +- 3 sqrt(cbar), cut at 0.
 * Source: NIST/SEMATECH e-Handbook 6.3.3.1. @throws RangeError when a count is not whole and 0 or more, or none is present
 */
export function cChart(counts: readonly (number | null)[]): AttributeChart {
  counts.forEach((count, index) => {
    if (count !== null) requireCount(count, index, 'cChart');
  });
  const present = counts.filter((count) => count !== null);
  if (present.length === 0) throw new RangeError('cChart: needs at least 1 count, 0 given');
  const centre = present.reduce((sum, count) => sum + count, 0) / present.length;
  const sigma = Math.sqrt(centre);
  return { centre, sigmaZ: null, points: counts.map((count) => (count === null ? null : point(count, centre, sigma, Number.POSITIVE_INFINITY))) };
}

type Sample = { readonly count: number; readonly size: number };

function point(value: number, centre: number, sigma: number, most: number): AttributePoint {
  if (!(sigma > 0)) return { value, lower: null, upper: null, beyond: null };
  const lower = Math.max(0, centre - 3 * sigma);
  const upper = Math.min(most, centre + 3 * sigma);
  const slack = BEYOND_TOLERANCE * sigma;
  if (value > upper + slack) return { value, lower, upper, beyond: 'above' };
  return { value, lower, upper, beyond: value < lower - slack ? 'below' : null };
}

/** Null without two neighbouring samples, or where pbar is 0 or 1 and no z exists. */
function laneySigma(z: readonly (number | null)[]): number | null {
  const steps = z.flatMap((value, index) => {
    const before = index === 0 ? null : (z[index - 1] ?? null);
    return value === null || before === null ? [] : [Math.abs(value - before)];
  });
  if (steps.length === 0 || !steps.every(Number.isFinite)) return null;
  return steps.reduce((sum, step) => sum + step, 0) / steps.length / chartConstants(2).d2;
}

function overallProportion(samples: readonly (Sample | null)[]): number {
  let count = 0;
  let size = 0;
  for (const sample of samples) {
    count += sample?.count ?? 0;
    size += sample?.size ?? 0;
  }
  return count / size;
}

function pairUp(counts: readonly (number | null)[], sizes: number | readonly number[], caller: string): (Sample | null)[] {
  if (typeof sizes !== 'number' && sizes.length !== counts.length) {
    throw new RangeError(`${caller}: needs one sample size a sample, ${sizes.length} sizes for ${counts.length} samples given`);
  }
  const samples = counts.map((count, index) => {
    if (count === null) return null;
    const size = typeof sizes === 'number' ? sizes : (sizes[index] ?? Number.NaN);
    if (!Number.isInteger(size) || size < 1) throw new RangeError(`${caller}: the size of sample ${index + 1} is ${size}, a whole number of 1 or more is expected`);
    requireCount(count, index, caller);
    if (count > size) throw new RangeError(`${caller}: sample ${index + 1} has ${count} defectives among ${size}, no more than its size are expected`);
    return { count, size };
  });
  if (samples.every((sample) => sample === null)) throw new RangeError(`${caller}: needs at least 1 sample, 0 given`);
  return samples;
}

function requireCount(count: number, index: number, caller: string): void {
  if (!Number.isInteger(count) || count < 0) throw new RangeError(`${caller}: count ${index + 1} is ${String(count)}, a whole number of 0 or more is expected`);
}
