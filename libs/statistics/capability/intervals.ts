import { chiSquareQuantile } from '../distributions/gamma.js';
import { normalQuantile } from '../distributions/normal.js';

/** So far from any real index that beyond it only the guard against overflow is left. */
export const LARGEST_INDEX = 1e100;

export type Interval = { readonly low: number; readonly high: number };

/**
 * Two-sided interval of Cp or Pp: index * sqrt(chi2/nu) at both ends, exact for a normal characteristic when nu are the
 * true degrees of freedom of the sigma. Source: Kushler & Hurley 1992, "Confidence bounds for capability indices",
 * Journal of Quality Technology 24(4); Montgomery, Introduction to Statistical Quality Control, "Confidence intervals".
 * @param nu degrees of freedom of the sigma, may be fractional
 */
export function spreadIndexInterval(index: number, nu: number, confidence = 0.95): Interval {
  requireArguments(index, nu, confidence, 'spreadIndexInterval');
  const alpha = 1 - confidence;
  return { low: index * Math.sqrt(chiSquareQuantile(alpha / 2, nu) / nu), high: index * Math.sqrt(chiSquareQuantile(1 - alpha / 2, nu) / nu) };
}

/**
 * Two-sided interval of Cpk or Ppk by the normal approximation, index +- z sqrt(1/(9n) + index^2/(2 nu)).
 * Source: Bissell 1990, "How reliable is your capability index?", Applied Statistics 39(3).
 * @param n readings behind the mean
 * @param nu degrees of freedom of the sigma
 */
export function locationIndexInterval(index: number, n: number, nu: number, confidence = 0.95): Interval {
  requireArguments(index, nu, confidence, 'locationIndexInterval');
  const half = normalQuantile(1 - (1 - confidence) / 2) * locationIndexError(index, n, nu);
  return { low: index - half, high: index + half };
}

/** One-sided lower bound of Cpk or Ppk, the same approximation with the whole risk below. */
export function locationIndexLowerBound(index: number, n: number, nu: number, confidence = 0.95): number {
  requireArguments(index, nu, confidence, 'locationIndexLowerBound');
  return index - normalQuantile(confidence) * locationIndexError(index, n, nu);
}

function locationIndexError(index: number, n: number, nu: number): number {
  if (!(n >= 2)) throw new RangeError(`locationIndexInterval: needs 2 or more readings, ${n} given`);
  return Math.hypot(1 / (3 * Math.sqrt(n)), index / Math.sqrt(2 * nu));
}

function requireArguments(index: number, nu: number, confidence: number, caller: string): void {
  if (!(Math.abs(index) <= LARGEST_INDEX)) throw new RangeError(`${caller}: needs an index up to ${LARGEST_INDEX} in size, ${index} given`);
  if (!(nu > 0 && Number.isFinite(nu))) throw new RangeError(`${caller}: needs positive degrees of freedom, ${nu} given`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`${caller}: needs a confidence strictly between 0 and 1, ${confidence} given`);
}
