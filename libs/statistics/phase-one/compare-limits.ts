import { fUpperTail } from '../distributions/f.js';
import { studentTUpperTail } from '../distributions/student-t.js';

/** One revision of limits, as it was frozen. */
export type LimitsRevision = {
  readonly centre: number;
  /** Sigma of one charted reading, in the unit of the readings. */
  readonly sigma: number;
  readonly readings: number;
  /** Degrees of freedom of the sigma; see withinFreedom. */
  readonly freedom: number;
};

export type LimitsComparison = {
  /** New centre less old one, in the unit of the readings and in sigmas of the old revision. */
  readonly shift: { readonly value: number; readonly inSigma: number; readonly t: number; readonly df: number; readonly p: number };
  /** New sigma over old one: also how much wider the limits are at equal n. */
  readonly spread: { readonly ratio: number; readonly f: number; readonly p: number };
};

/**
 * How a revision of limits differs from the one before, and whether by more than the chance of the two baselines.
 * Centres: t of Welch 1947 with the sigma within; spreads: ratio of variances, two-sided F (Fisher 1924).
 * The t takes readings as independent; where checks differ among themselves it finds too much.
 * @throws RangeError when a sigma or freedom is not positive and finite, readings under 2, or a figure is beyond the range of numbers
 */
export function compareLimits(before: LimitsRevision, after: LimitsRevision): LimitsComparison {
  const caller = 'compareLimits';
  for (const [name, { centre, sigma, readings, freedom }] of [['old', before], ['new', after]] as const) {
    if (!Number.isFinite(centre)) throw new RangeError(`${caller}: needs a finite ${name} centre, ${centre} given`);
    if (!(sigma > 0 && Number.isFinite(sigma))) throw new RangeError(`${caller}: needs a positive ${name} sigma, ${sigma} given`);
    if (!Number.isInteger(readings) || readings < 2) throw new RangeError(`${caller}: needs a whole number of readings behind the ${name} limits, 2 or more, ${readings} given`);
    if (!(freedom > 0 && Number.isFinite(freedom))) throw new RangeError(`${caller}: needs positive degrees of freedom of the ${name} sigma, ${freedom} given`);
  }
  const value = after.centre - before.centre;
  const ratio = after.sigma / before.sigma;
  // In sigmas of the old revision, so that no square leaves the range of numbers.
  const old = 1 / before.readings;
  const fresh = ratio ** 2 / after.readings;
  const t = value / before.sigma / Math.sqrt(old + fresh);
  const df = (old + fresh) ** 2 / (old ** 2 / before.freedom + fresh ** 2 / after.freedom);
  const f = ratio ** 2;
  if (![value, value / before.sigma, t, df, f].every(Number.isFinite) || f === 0) throw new RangeError(`${caller}: needs centres and sigmas of like size, those given lead beyond the range of numbers`);
  const tail = fUpperTail(f, after.freedom, before.freedom);
  const other = fUpperTail(1 / f, before.freedom, after.freedom);
  return {
    shift: { value, inSigma: value / before.sigma, t, df, p: Math.min(1, 2 * studentTUpperTail(Math.abs(t), df)) },
    spread: { ratio, f, p: Math.min(1, 2 * Math.min(tail, other)) },
  };
}
