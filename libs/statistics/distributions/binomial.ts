import { regularisedBeta } from './beta.js';
import { LARGEST_SHAPE } from './largest-shape.js';
import { binomialTerm } from './saddle-point.js';

/* Number of marked units among n independent ones. Term: Loader 2000; sums: Abramowitz & Stegun 1964, 26.5.24. */

/** P(X = k); 0 where k is below 0 or above n. Relative error below 1e-12. @throws RangeError when k or n is not whole, n is negative or above 1e9, or p outside 0 to 1 */
export function binomialPmf(k: number, n: number, p: number): number {
  requireArguments(k, n, p, 'binomialPmf');
  return k < 0 || k > n ? 0 : binomialTerm(k, n, p, 1 - p);
}

/** P(X <= k). @throws RangeError as binomialPmf */
export function binomialCdf(k: number, n: number, p: number): number {
  requireArguments(k, n, p, 'binomialCdf');
  if (k < 0) return 0;
  if (k >= n) return 1;
  return regularisedBeta(1 - p, n - k, k + 1, p);
}

/** P(X > k), accurate where it is small. @throws RangeError as binomialPmf */
export function binomialUpperTail(k: number, n: number, p: number): number {
  requireArguments(k, n, p, 'binomialUpperTail');
  if (k < 0) return 1;
  if (k >= n) return 0;
  return regularisedBeta(p, k + 1, n - k, 1 - p);
}

function requireArguments(k: number, n: number, p: number, caller: string): void {
  if (!Number.isSafeInteger(k)) throw new RangeError(`${caller}: needs a whole count, ${k} given`);
  if (!(Number.isSafeInteger(n) && n >= 0 && n <= LARGEST_SHAPE)) throw new RangeError(`${caller}: needs a whole number of units from 0 to ${LARGEST_SHAPE}, ${n} given`);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`${caller}: needs a probability from 0 to 1, ${p} given`);
}
