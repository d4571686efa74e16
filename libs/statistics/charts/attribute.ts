import { chartConstants } from './constants.js';
import { NO_LINES, type Panel, panelOf, type Statistic, symmetricLines } from './panel.js';

/** A chart of counts; `panel.sigma` is null where nothing varies (no defective at all, or all). */
export type AttributeChart = {
  readonly centre: number;
  /** Laney's sigma_z, how many times the binomial or Poisson spread the points really have; null where it was not asked for or cannot be had. */
  readonly sigmaZ: number | null;
  readonly panel: Panel;
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
  const samples = defectivesAmong(defectives, sizes, 'pChart');
  const centre = overall(samples);
  return chartOf('pChart', 'p', samples, centre, (size) => Math.sqrt((centre * (1 - centre)) / size), spread === 'laney', 1);
}

/**
 * Chart of numbers defective in samples of one size: n pbar +- 3 sqrt(n pbar (1-pbar)), cut at 0 and n.
 * Source: as for proportions. @throws RangeError as pChart
 */
export function npChart(defectives: readonly (number | null)[], size: number): AttributeChart {
  if (!Number.isSafeInteger(size)) throw new RangeError(`npChart: needs a whole sample size of 1 or more, ${size} given`);
  const samples = defectivesAmong(defectives, size, 'npChart');
  const proportion = overall(samples);
  const centre = size * proportion;
  const lines = symmetricLines(centre, Math.sqrt(centre * (1 - proportion)), 0, size);
  return { centre, sigmaZ: null, panel: panelOf('npChart', 'np', samples.map((s) => s?.count ?? null), () => lines) };
}

/**
 * Chart of defects a unit of constant size: cbar +- 3 sqrt(cbar), cut at 0.
 * Source: NIST/SEMATECH e-Handbook 6.3.3.1. @throws RangeError when a count is not whole and 0 or more, or none is present
 */
export function cChart(counts: readonly (number | null)[]): AttributeChart {
  const samples = pairUp(counts, 1, 'cChart');
  const centre = overall(samples);
  const lines = symmetricLines(centre, Math.sqrt(centre), 0);
  return { centre, sigmaZ: null, panel: panelOf('cChart', 'c', samples.map((s) => s?.count ?? null), () => lines) };
}

/**
 * Chart of defects a unit where the size inspected differs: u_i = c_i/size_i, ubar = sum c / sum size, limits
 * ubar +- 3 sqrt(ubar/size_i), cut at 0. A size may be fractional (hours, square metres, pallets).
 * With spread 'laney' widened by sigma_z as on the chart of proportions, for counts so large that Poisson limits are too narrow.
 * Source: Montgomery, Introduction to Statistical Quality Control, "Control charts for nonconformities", variable
 * sample size; Laney 2002, Quality Engineering 14(4).
 * @param counts whole counts, null = missing @param sizes above 0, one for all or one a sample, in the unit defects are counted by
 * @throws RangeError as pChart
 */
export function uChart(counts: readonly (number | null)[], sizes: number | readonly number[], spread: 'poisson' | 'laney' = 'poisson'): AttributeChart {
  const samples = pairUp(counts, sizes, 'uChart');
  const centre = overall(samples);
  return chartOf('uChart', 'u', samples, centre, (size) => Math.sqrt(centre / size), spread === 'laney', Number.POSITIVE_INFINITY);
}

type Sample = { readonly count: number; readonly size: number };

function chartOf(caller: string, statistic: Statistic, samples: readonly (Sample | null)[], centre: number, sigmaOf: (size: number) => number, laney: boolean, most: number): AttributeChart {
  const points = samples.map((s) => (s === null ? null : s.count / s.size));
  const sigmaZ = laney ? laneySigma(samples.map((s) => (s === null ? null : (s.count / s.size - centre) / sigmaOf(s.size)))) : null;
  const widen = laney ? sigmaZ : 1;
  const panel = panelOf(caller, statistic, points, (index) => {
    const sample = samples[index] ?? null;
    return sample === null ? NO_LINES : symmetricLines(centre, widen === null ? null : widen * sigmaOf(sample.size), 0, most);
  });
  return { centre, sigmaZ, panel };
}

/** Null without two neighbouring samples, or where nothing varies and no z exists. */
function laneySigma(z: readonly (number | null)[]): number | null {
  let sum = 0;
  let steps = 0;
  z.forEach((value, index) => {
    const before = index === 0 ? null : (z[index - 1] ?? null);
    if (value === null || before === null) return;
    sum += Math.abs(value - before);
    steps += 1;
  });
  return steps === 0 || !Number.isFinite(sum) ? null : sum / steps / chartConstants(2).d2;
}

function overall(samples: readonly (Sample | null)[]): number {
  let count = 0;
  let size = 0;
  for (const sample of samples) {
    count += sample?.count ?? 0;
    size += sample?.size ?? 0;
  }
  return count / size;
}

function defectivesAmong(counts: readonly (number | null)[], sizes: number | readonly number[], caller: string): (Sample | null)[] {
  const samples = pairUp(counts, sizes, caller);
  samples.forEach((sample, index) => {
    if (sample === null) return;
    if (!Number.isSafeInteger(sample.size)) throw new RangeError(`${caller}: the size of sample ${index + 1} is ${sample.size}, a whole number of 1 or more is expected`);
    if (sample.count > sample.size) throw new RangeError(`${caller}: sample ${index + 1} has ${sample.count} defectives among ${sample.size}, no more than its size are expected`);
  });
  return samples;
}

function pairUp(counts: readonly (number | null)[], sizes: number | readonly number[], caller: string): (Sample | null)[] {
  if (typeof sizes !== 'number' && sizes.length !== counts.length) {
    throw new RangeError(`${caller}: needs one sample size a sample, ${sizes.length} sizes for ${counts.length} samples given`);
  }
  const samples = counts.map((count, index) => {
    if (count === null) return null;
    const size = typeof sizes === 'number' ? sizes : (sizes[index] ?? Number.NaN);
    if (!(size > 0 && Number.isFinite(size))) throw new RangeError(`${caller}: the size of sample ${index + 1} is ${size}, a number above 0 is expected`);
    if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`${caller}: count ${index + 1} is ${String(count)}, a whole number of 0 or more is expected`);
    return { count, size };
  });
  if (samples.every((sample) => sample === null)) throw new RangeError(`${caller}: needs at least 1 sample, 0 given`);
  return samples;
}
