import { regularisedGammaLower, regularisedGammaUpper } from './gamma.js';
import { LARGEST_SHAPE } from './largest-shape.js';
import { poissonTerm } from './saddle-point.js';

/* Number of rare events. Term: Loader 2000; sums through the incomplete gamma: Abramowitz & Stegun 1964, 26.4.21. */

/** P(X = k); 0 for k below 0. @throws RangeError when k is not whole or not below 1e9, or the mean is negative or above 1e9 */
export function poissonPmf(k: number, mean: number): number {
  requireArguments(k, mean, 'poissonPmf');
  return k < 0 ? 0 : poissonTerm(k, mean);
}

/** P(X <= k). @throws RangeError as poissonPmf */
export function poissonCdf(k: number, mean: number): number {
  requireArguments(k, mean, 'poissonCdf');
  if (k < 0) return 0;
  return mean === 0 ? 1 : regularisedGammaUpper(k + 1, mean);
}

/** P(X > k), accurate where it is small. @throws RangeError as poissonPmf */
export function poissonUpperTail(k: number, mean: number): number {
  requireArguments(k, mean, 'poissonUpperTail');
  if (k < 0) return 1;
  return mean === 0 ? 0 : regularisedGammaLower(k + 1, mean);
}

function requireArguments(k: number, mean: number, caller: string): void {
  if (!(Number.isSafeInteger(k) && k < LARGEST_SHAPE)) throw new RangeError(`${caller}: needs a whole count below ${LARGEST_SHAPE}, ${k} given`);
  if (!(mean >= 0 && mean <= LARGEST_SHAPE)) throw new RangeError(`${caller}: needs a mean from 0 to 1,000,000,000, ${mean} given`);
}
