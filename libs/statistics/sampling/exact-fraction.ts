import { betaQuantile } from '../distributions/beta.js';

/** Shares between 0 and 1. */
export type ExactFraction = {
  readonly fraction: number;
  /** Two-sided interval: half of the risk at each end. */
  readonly low: number;
  readonly high: number;
  /** One-sided bound: the whole risk above. This is the one that says "not more than". */
  readonly upperBound: number;
};

/**
 * Share of units with some property, with bounds that hold at least the confidence whatever the true share is.
 * low = B(alpha/2; x, n-x+1), high = B(1-alpha/2; x+1, n-x), upper bound = B(1-alpha; x+1, n-x), B the beta quantile.
 * Source: Clopper & Pearson 1934, "The use of confidence or fiducial limits illustrated in the case of the binomial",
 * Biometrika 26. None found gives the bound of upperBoundZeroFound; all found gives an upper bound of 1.
 * @param found units with the property, 0 to n
 * @param n units looked at, sampled independently: points round one can are not independent units
 * @throws RangeError when the counts are not whole or do not fit, or confidence is not strictly between 0 and 1
 */
export function exactFraction(found: number, n: number, confidence = 0.95): ExactFraction {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`exactFraction: needs a whole number of units, 1 or more, ${n} given`);
  if (!Number.isInteger(found) || found < 0 || found > n) throw new RangeError(`exactFraction: needs a whole number of units found, 0 to ${n}, ${found} given`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`exactFraction: needs a confidence strictly between 0 and 1, ${confidence} given`);
  const alpha = 1 - confidence;
  const above = (risk: number): number => (found === n ? 1 : betaQuantile(1 - risk, found + 1, n - found));
  return {
    fraction: found / n,
    low: found === 0 ? 0 : betaQuantile(alpha / 2, found, n - found + 1),
    high: above(alpha / 2),
    upperBound: above(alpha),
  };
}
