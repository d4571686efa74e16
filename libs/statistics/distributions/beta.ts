import { LARGEST_SHAPE } from './largest-shape.js';
import { binomialTerm } from './saddle-point.js';

/*
 * Beta distribution. Continued fraction: Abramowitz & Stegun 1964, 26.5.8 (DLMF 8.17.22), evaluated by the modified
 * Lentz method (Thompson & Barnett 1986), on the side of the mean where it converges; the factor before it is a
 * binomial term (Loader 2000), which keeps its digits for large shapes. The spec holds values against 40-digit ones
 * made with mpmath.
 */

/**
 * Regularised incomplete beta I_x(a, b), between 0 and 1; relative error below 1e-12 while a + b is below 1e4,
 * below 1e-11 up to 1e6, also far out in the tails.
 * @param complement 1 - x, where the caller knows it to more digits than the subtraction would keep
 * @throws RangeError when a or b is not above 0 and up to 1e9, or x is outside 0 to 1
 */
export function regularisedBeta(x: number, a: number, b: number, complement = 1 - x): number {
  requireShape(a, b, 'regularisedBeta');
  if (!(x >= 0 && x <= 1)) throw new RangeError(`regularisedBeta: needs a value from 0 to 1, ${x} given`);
  if (x === 0 || x === 1) return x;
  // x^a (1-x)^b / B(a, b)
  const front = (binomialTerm(a, a + b, x, complement) * a * b) / (a + b);
  if (x <= (a + 1) / (a + b + 2)) return Math.min(1, (front * fraction(x, a, b)) / a);
  return Math.max(0, 1 - (front * fraction(complement, b, a)) / b);
}

/**
 * The x with I_x(a, b) = p, by bisection of the sorted doubles: slow and sure, since the distribution only rises.
 * @throws RangeError when p is not strictly between 0 and 1, or a or b is not above 0 and up to 1e9
 */
export function betaQuantile(p: number, a: number, b: number): number {
  requireShape(a, b, 'betaQuantile');
  if (!(p > 0 && p < 1)) throw new RangeError(`betaQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  let low = 0;
  let high = 1;
  // 1100 halvings reach the smallest double; a quantile of use is found in about 55.
  for (let turn = 0; turn < 1100; turn += 1) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high || high - low <= 1e-15 * high) return middle;
    if (regularisedBeta(middle, a, b) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function fraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < 1_000_000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return h;
}

function nonZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}

function requireShape(a: number, b: number, caller: string): void {
  for (const shape of [a, b]) {
    if (!(shape > 0 && shape <= LARGEST_SHAPE)) throw new RangeError(`${caller}: needs positive shapes up to ${LARGEST_SHAPE}, ${a} and ${b} given`);
  }
}
