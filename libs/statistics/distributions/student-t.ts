import { betaQuantile, regularisedBeta } from './beta.js';
import { LARGEST_SHAPE } from './largest-shape.js';

/*
 * Student's t through the incomplete beta: Abramowitz & Stegun 1964, 26.7.1 and 26.5.27. Degrees of freedom may be
 * fractional, as Welch's are.
 */

/** P(T <= t). Relative error below 1e-12 in the lower tail to 1e-30 (1e-11 from 10,000 degrees of freedom). @throws RangeError when nu is not above 0 and up to 2e9 or t is not finite */
export function studentTCdf(t: number, nu: number): number {
  requireArguments(t, nu, 'studentTCdf');
  return t < 0 ? tail(-t, nu) : 1 - tail(t, nu);
}

/** P(T > t), accurate in the upper tail. @throws RangeError when nu is not above 0 and up to 2e9 or t is not finite */
export function studentTUpperTail(t: number, nu: number): number {
  requireArguments(t, nu, 'studentTUpperTail');
  return t < 0 ? 1 - tail(-t, nu) : tail(t, nu);
}

/**
 * The t with P(T <= t) = p. Relative error below 1e-11.
 * @throws RangeError when p is not strictly between 0 and 1, nu is not above 0 and up to 2e9, or t is beyond the range of numbers
 */
export function studentTQuantile(p: number, nu: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`studentTQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  requireArguments(0, nu, 'studentTQuantile');
  if (p === 0.5) return 0;
  const outside = 2 * Math.min(p, 1 - p);
  const t = outside < 0.5 ? fromOutside(outside, nu) : fromInside(outside, nu);
  if (!Number.isFinite(t)) throw new RangeError(`studentTQuantile: needs more degrees of freedom or a probability less far out, ${nu} and ${p} given`);
  return p < 0.5 ? -t : t;
}

/** P(T > t) for t >= 0: half of I_x(nu/2, 1/2) at x = nu / (nu + t^2). */
function tail(t: number, nu: number): number {
  // In quotients of the larger, so that neither t^2 nor nu/t^2 leaves the range of numbers.
  const ratio = t / Math.sqrt(nu);
  const square = ratio * ratio;
  const x = 1 / (1 + square);
  const complement = square > 1 ? 1 / (1 + 1 / square) : square / (1 + square);
  return 0.5 * regularisedBeta(x, nu / 2, 0.5, complement);
}

function fromOutside(outside: number, nu: number): number {
  const x = betaQuantile(outside, nu / 2, 0.5);
  // For many degrees of freedom x is so near 1 that 1 - x has lost its digits: there the complement is asked for.
  if (x > 0.9) return fromInside(outside, nu);
  return Math.sqrt(nu) * Math.sqrt((1 - x) / x);
}

function fromInside(outside: number, nu: number): number {
  let y = betaQuantile(1 - outside, 0.5, nu / 2);
  // Newton on the logarithm of the outside share, which 1 - outside has rounded where it is small.
  for (let turn = 0; turn < 4; turn += 1) {
    const share = regularisedBeta(1 - y, nu / 2, 0.5, y);
    const step = 1e-6 * y;
    const slope = (Math.log(regularisedBeta(1 - y - step, nu / 2, 0.5, y + step)) - Math.log(regularisedBeta(1 - y + step, nu / 2, 0.5, y - step))) / (2 * step);
    const next = y - (Math.log(share) - Math.log(outside)) / slope;
    if (!(next > 0 && next < 1)) break;
    y = next;
  }
  return Math.sqrt(nu) * Math.sqrt(y / (1 - y));
}

function requireArguments(t: number, nu: number, caller: string): void {
  if (!(nu > 0 && nu <= 2 * LARGEST_SHAPE)) throw new RangeError(`${caller}: needs positive degrees of freedom up to ${2 * LARGEST_SHAPE}, ${nu} given`);
  if (!Number.isFinite(t)) throw new RangeError(`${caller}: needs a finite t, ${t} given`);
}
