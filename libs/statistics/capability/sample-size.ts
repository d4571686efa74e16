import { chiSquareCdf, chiSquareQuantile } from '../distributions/gamma.js';
import { noncentralTCdf, noncentralTQuantile } from '../distributions/noncentral-t.js';
import { normalCdf, normalQuantile } from '../distributions/normal.js';

export type SampleSizeInput = {
  /** 'spread': Cp or Pp. 'location': Cpk or Ppk, and the index of a one-sided specification. */
  readonly index: 'spread' | 'location';
  /** The index to be shown. */
  readonly target: number;
  /** The index believed true, above the target. */
  readonly assumed: number;
  /** Of the one-sided lower bound that has to reach the target. */
  readonly confidence?: number;
  /** Probability that the bound reaches the target. Left out: readings with which it does when the estimate comes out as assumed, about one time in two. */
  readonly power?: number;
};

export type SampleSize = {
  /** Readings needed; null: more than a million. */
  readonly n: number | null;
  /** The smallest estimate from n readings whose lower bound reaches the target. */
  readonly needed: number | null;
  /** By the normal approximation of Bissell 1990; null for a spread index, where the exact size is as easy, and beyond a million. */
  readonly approximateN: number | null;
};

const MOST_READINGS = 1_000_000;

/**
 * Readings needed to show that an index is not below a target: the fewest whose lower confidence bound reaches it.
 * Spread: chi-square, exact for a normal characteristic. Location: noncentral t, exact for a one-sided specification; with
 * two limits the nearer side is never above either side, so the confidence holds at least and the power is a little
 * overstated for a centred characteristic. n readings are one random sample of a stable stream.
 * Source: Franklin 1999, "Sample size determination for lower confidence limits for estimating process capability
 * indices", Computers & Industrial Engineering 36(3); Kushler & Hurley 1992, Journal of Quality Technology 24(4);
 * Bissell 1990, Applied Statistics 39(3).
 * @throws RangeError when target or assumed is not in order above 0 and at most 100, confidence or power is not strictly between 0 and 1
 */
export function capabilitySampleSize(input: SampleSizeInput): SampleSize {
  const { index, target, assumed, confidence = 0.95, power } = input;
  if (!(target > 0 && assumed > target && assumed <= 100)) throw new RangeError(`capabilitySampleSize: needs an assumed index above the target, both above 0 and at most 100, ${assumed} and ${target} given`);
  for (const [name, value] of [['confidence', confidence], ['power', power ?? 0.5]] as const) {
    if (!(value > 0 && value < 1)) throw new RangeError(`capabilitySampleSize: needs a ${name} strictly between 0 and 1, ${value} given`);
  }
  const neededAt = (n: number): number => (index === 'spread' ? spreadNeeded(n, target, confidence) : locationNeeded(n, target, confidence));
  const isEnough = (n: number): boolean => {
    const needed = neededAt(n);
    if (power === undefined) return needed <= assumed;
    return (index === 'spread' ? chiSquareCdf((n - 1) * (assumed / needed) ** 2, n - 1) : 1 - noncentralTCdf(3 * Math.sqrt(n) * needed, n - 1, 3 * Math.sqrt(n) * assumed)) >= power;
  };
  const n = fewest(isEnough);
  return {
    n, needed: n === null ? null : neededAt(n),
    approximateN: index === 'spread' ? null : fewest((size) => bissellEnough(size, target, assumed, confidence, power)),
  };
}

/** Estimate whose chi-square lower bound is the target. */
function spreadNeeded(n: number, target: number, confidence: number): number {
  return target * Math.sqrt((n - 1) / chiSquareQuantile(1 - confidence, n - 1));
}

/** Estimate that a true index of the target exceeds with the risk only. */
function locationNeeded(n: number, target: number, confidence: number): number {
  const root = 3 * Math.sqrt(n);
  return noncentralTQuantile(confidence, n - 1, root * target) / root;
}

/** The same by index - z sqrt(1/(9n) + index^2/(2(n-1))): the estimate needed solves a quadratic. */
function bissellEnough(n: number, target: number, assumed: number, confidence: number, power: number | undefined): boolean {
  const z = normalQuantile(confidence);
  const a = 1 - (z * z) / (2 * (n - 1));
  if (!(a > 0)) return false;
  const needed = (target + Math.sign(z) * Math.sqrt(Math.max(0, target * target - a * (target * target - (z * z) / (9 * n))))) / a;
  if (power === undefined) return needed <= assumed;
  return normalCdf((assumed - needed) / Math.sqrt(1 / (9 * n) + (assumed * assumed) / (2 * (n - 1)))) >= power;
}

/** Smallest n from 2 for which more readings stay enough: doubled until enough, then halved back. */
function fewest(isEnough: (n: number) => boolean): number | null {
  let enough = 2;
  while (!isEnough(enough)) {
    if (enough >= MOST_READINGS) return null;
    enough = Math.min(MOST_READINGS, enough * 2);
  }
  let short = enough === 2 ? 1 : Math.floor(enough / 2);
  while (enough - short > 1) {
    const middle = Math.floor((enough + short) / 2);
    if (isEnough(middle)) enough = middle;
    else short = middle;
  }
  return enough;
}
