import { betaQuantile, regularisedBeta } from './beta.js';
import { LARGEST_SHAPE } from './largest-shape.js';

/* The F distribution (ratio of two mean squares) through the incomplete beta: Abramowitz & Stegun 1964, 26.6.2. */

/** P(F <= f) for nu1 degrees of freedom above and nu2 below, fractional allowed. @throws RangeError when f is negative or a nu not above 0 and up to 2e9 */
export function fCdf(f: number, nu1: number, nu2: number): number {
  const { x, rest } = shares(f, nu1, nu2, 'fCdf');
  return regularisedBeta(x, nu1 / 2, nu2 / 2, rest);
}

/** P(F > f), the p of an analysis of variance, accurate in the tail. @throws RangeError as fCdf */
export function fUpperTail(f: number, nu1: number, nu2: number): number {
  const { x, rest } = shares(f, nu1, nu2, 'fUpperTail');
  return regularisedBeta(rest, nu2 / 2, nu1 / 2, x);
}

/**
 * The f with P(F <= f) = p. Relative error below 1e-11.
 * @throws RangeError when p is not strictly between 0 and 1, a nu not above 0 and up to 2e9, or f is beyond the range of numbers
 */
export function fQuantile(p: number, nu1: number, nu2: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`fQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  shares(1, nu1, nu2, 'fQuantile');
  const x = betaQuantile(p, nu1 / 2, nu2 / 2);
  // The smaller of the two shares is the one that has kept its digits.
  const f = x < 0.5 ? (nu2 * x) / (nu1 * (1 - x)) : (() => {
    const rest = betaQuantile(1 - p, nu2 / 2, nu1 / 2);
    return (nu2 * (1 - rest)) / (nu1 * rest);
  })();
  if (!Number.isFinite(f)) throw new RangeError(`fQuantile: needs more degrees of freedom or a probability less far out, ${nu1}, ${nu2} and ${p} given`);
  return f;
}

/** nu1 f and nu2 as shares of their sum, in quotients so that nothing overflows. */
function shares(f: number, nu1: number, nu2: number, caller: string): { x: number; rest: number } {
  for (const nu of [nu1, nu2]) if (!(nu > 0 && nu <= 2 * LARGEST_SHAPE)) throw new RangeError(`${caller}: needs positive degrees of freedom up to ${2 * LARGEST_SHAPE}, ${nu} given`);
  if (!(f >= 0 && Number.isFinite(f))) throw new RangeError(`${caller}: needs a finite F of 0 or more, ${f} given`);
  const ratio = (nu1 / nu2) * f;
  if (ratio <= 1) return { x: ratio / (1 + ratio), rest: 1 / (1 + ratio) };
  const inverse = nu2 / nu1 / f;
  return { x: 1 / (1 + inverse), rest: inverse / (1 + inverse) };
}
