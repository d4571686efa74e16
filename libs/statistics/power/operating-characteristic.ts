import { chartConstants } from '../charts/constants.js';
import { binomialCdf, binomialUpperTail } from '../distributions/binomial.js';
import { chiSquareCdf, chiSquareUpperTail } from '../distributions/gamma.js';
import { normalCdf } from '../distributions/normal.js';
import { poissonCdf, poissonUpperTail } from '../distributions/poisson.js';

/** How likely one point misses a change, and how many points pass until it is seen; arl null where it never is. */
export type Miss = { readonly missed: number; readonly arl: number | null };

/**
 * Operating characteristic of a chart of means with limits alone: P(|Z + shift sqrt(n)| <= width).
 * Source: Montgomery, Introduction to Statistical Quality Control, "The operating-characteristic function".
 * @param n readings a mean  @param shifts of the process mean, in sigma of one reading  @param width of the limits in sigma of the mean
 * @throws RangeError when n is not whole and positive, width not positive, or a shift not finite
 */
export function meanOperatingCharacteristic(n: number, shifts: readonly number[], width = 3): Miss[] {
  const caller = 'meanOperatingCharacteristic';
  requireSize(n, 1, caller);
  if (!(width > 0 && width <= 100)) throw new RangeError(`${caller}: needs a positive width of the limits, up to 100 sigma, ${width} given`);
  return shifts.map((shift, i) => {
    if (!Number.isFinite(shift)) throw new RangeError(`${caller}: needs a finite shift, ${shift} given as shift ${i + 1}`);
    const way = Math.min(1e6, Math.abs(shift) * Math.sqrt(n));
    return missOf(normalCdf(width - way) - normalCdf(-width - way), normalCdf(way - width) + normalCdf(-width - way));
  });
}

/**
 * Operating characteristic of a chart of standard deviations with limits B3, B4 (three sigma, cut at 0).
 * Source: (n-1) s^2 / sigma^2 is chi-square; Montgomery, Introduction to Statistical Quality Control, "Control charts for X-bar and S".
 * @param ratios new sigma over the one that the limits were made for
 * @throws RangeError when n is not whole from 2 to 200 or a ratio not positive
 */
export function sdOperatingCharacteristic(n: number, ratios: readonly number[]): Miss[] {
  const caller = 'sdOperatingCharacteristic';
  requireSize(n, 2, caller);
  const { c4, B3, B4 } = chartConstants(n);
  return ratios.map((ratio, i) => {
    if (!(ratio >= 1e-6 && ratio <= 1e6)) throw new RangeError(`${caller}: needs a positive ratio of sigmas, ${ratio} given as ratio ${i + 1}`);
    const at = (limit: number): number => (n - 1) * ((limit * c4) / ratio) ** 2;
    const below = B3 > 0 ? chiSquareCdf(at(B3), n - 1) : 0;
    return missOf(chiSquareCdf(at(B4), n - 1) - below, chiSquareUpperTail(at(B4), n - 1) + below);
  });
}

/**
 * Operating characteristic of a chart of proportions with three-sigma limits round a centre; the counts are binomial.
 * A count on a limit is not out. Source: as above, "Control charts for fraction nonconforming", the operating characteristic.
 * @param n units a sample  @param centre share that the limits were made for  @param shares shares that may come
 * @throws RangeError when n is not whole and positive, or a share is not strictly between 0 and 1
 */
export function proportionOperatingCharacteristic(n: number, centre: number, shares: readonly number[]): Miss[] {
  const caller = 'proportionOperatingCharacteristic';
  if (!(Number.isInteger(n) && n >= 1 && n <= 1e9)) throw new RangeError(`${caller}: needs a whole number of units, 1 or more, ${n} given`);
  for (const [i, share] of [centre, ...shares].entries()) {
    if (!(share > 0 && share < 1)) throw new RangeError(`${caller}: needs shares strictly between 0 and 1, ${share} given as ${i === 0 ? 'centre' : `share ${i}`}`);
  }
  const sigma = Math.sqrt((centre * (1 - centre)) / n);
  const upper = Math.floor(n * Math.min(1, centre + 3 * sigma) + 1e-9);
  const lower = Math.ceil(n * Math.max(0, centre - 3 * sigma) - 1e-9);
  return shares.map((share) => {
    const below = binomialCdf(lower - 1, n, share);
    return missOf(binomialCdf(upper, n, share) - below, binomialUpperTail(upper, n, share) + below);
  });
}

/**
 * Operating characteristic of a chart of defects with limits centre +- 3 sqrt(centre); the counts are Poisson.
 * @param centre mean number of defects that the limits were made for  @param means mean numbers that may come
 * @throws RangeError when a mean is not positive
 */
export function countOperatingCharacteristic(centre: number, means: readonly number[]): Miss[] {
  const caller = 'countOperatingCharacteristic';
  for (const [i, mean] of [centre, ...means].entries()) {
    if (!(mean > 0 && mean <= 1e8)) throw new RangeError(`${caller}: needs positive mean numbers of defects, ${mean} given as ${i === 0 ? 'centre' : `mean ${i}`}`);
  }
  const upper = Math.floor(centre + 3 * Math.sqrt(centre) + 1e-9);
  const lower = Math.ceil(Math.max(0, centre - 3 * Math.sqrt(centre)) - 1e-9);
  return means.map((mean) => {
    const below = poissonCdf(lower - 1, mean);
    return missOf(poissonCdf(upper, mean) - below, poissonUpperTail(upper, mean) + below);
  });
}

/** `seen` from the tails, so that the long waits of changes hardly ever seen keep their digits. */
function missOf(missed: number, seen: number): Miss {
  const arl = 1 / seen;
  return { missed: Math.min(1, Math.max(0, missed)), arl: Number.isFinite(arl) && seen > 0 ? arl : null };
}

function requireSize(n: number, least: number, caller: string): void {
  const most = least === 1 ? 1_000_000 : 200;
  if (!(Number.isInteger(n) && n >= least && n <= most)) throw new RangeError(`${caller}: needs a whole number of readings from ${least} to ${most}, ${n} given`);
}
