import { LARGEST_SHAPE } from './largest-shape.js';
import { normalQuantile } from './normal.js';

/*
 * Gamma and chi-square. Series and continued fraction: Abramowitz & Stegun 1964, 6.5.29 and 6.5.31, the fraction
 * evaluated by the modified Lentz method (Thompson & Barnett 1986). Log-gamma: the Stirling series 6.1.41 after
 * shifting the argument to 15 or more. The spec holds values against 40-digit ones made with mpmath.
 */

const HALF_LOG_2_PI = 0.9189385332046728;
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156] as const;

/**
 * Natural logarithm of the gamma function of x > 0; error below 1e-14 absolute or relative, whichever is larger.
 * @throws RangeError when x is not a positive finite number, or its logarithm of the gamma function is beyond the range of numbers (x above 2.5e305)
 */
export function logGamma(x: number): number {
  if (!(x > 0 && Number.isFinite(x))) throw new RangeError(`logGamma: needs a positive finite number, ${x} given`);
  if (x === 1 || x === 2) return 0;
  let shifted = x;
  let product = 1;
  while (shifted < 15) {
    product *= shifted;
    shifted += 1;
  }
  return finite((shifted - 0.5) * Math.log(shifted) - shifted + HALF_LOG_2_PI + stirlingRest(shifted) - Math.log(product), 'logGamma');
}

/**
 * Regularised lower incomplete gamma P(a, x), between 0 and 1; relative error below 1e-12 for a up to 1e6.
 * @throws RangeError when a is not above 0 and up to 1e9, or x is negative or infinite
 */
export function regularisedGammaLower(a: number, x: number): number {
  requireShape(a, x, 'regularisedGammaLower');
  return x < a + 1 ? series(a, x) : 1 - fraction(a, x);
}

/** Regularised upper incomplete gamma Q(a, x) = 1 - P(a, x), computed for itself where it is the smaller one. @throws RangeError as regularisedGammaLower */
export function regularisedGammaUpper(a: number, x: number): number {
  requireShape(a, x, 'regularisedGammaUpper');
  return x < a + 1 ? 1 - series(a, x) : fraction(a, x);
}

/**
 * P(chi-square with nu degrees of freedom <= x); nu may be fractional, as effective degrees of freedom are.
 * @throws RangeError when nu is not above 0 and up to 2e9, or x is negative or infinite
 */
export function chiSquareCdf(x: number, nu: number): number {
  return regularisedGammaLower(nu / 2, x / 2);
}

/** P(chi-square with nu degrees of freedom > x), accurate in the upper tail. @throws RangeError as chiSquareCdf */
export function chiSquareUpperTail(x: number, nu: number): number {
  return regularisedGammaUpper(nu / 2, x / 2);
}

/**
 * P(X <= x) of a gamma distribution with the shape and scale given (mean = shape * scale, in the unit of x); 0 below 0.
 * @throws RangeError when shape or scale is not positive and finite or x is NaN
 */
export function gammaCdf(x: number, shape: number, scale: number): number {
  requireScale(scale, 'gammaCdf');
  if (!Number.isFinite(x)) throw new RangeError(`gammaCdf: needs a finite value, ${x} given`);
  return regularisedGammaLower(shape, Math.min(Number.MAX_VALUE, Math.max(0, x) / scale));
}

/** The x with gammaCdf(x) = p. @throws RangeError when p is not strictly between 0 and 1, shape or scale not positive and finite */
export function gammaQuantile(p: number, shape: number, scale: number): number {
  requireScale(scale, 'gammaQuantile');
  if (!(shape > 0 && shape <= LARGEST_SHAPE)) throw new RangeError(`gammaQuantile: needs a positive shape up to ${LARGEST_SHAPE}, ${shape} given`);
  return finite((scale * chiSquareQuantile(p, 2 * shape)) / 2, 'gammaQuantile');
}

/**
 * The x with P(chi-square nu <= x) = p. Start: Wilson & Hilferty 1931 (or the leading power term in the far lower
 * tail); then Newton steps kept inside a bracket, on the smaller of the two tails. Relative error below 1e-11.
 * @throws RangeError when p is not strictly between 0 and 1 or nu is not above 0 and up to 2e9
 */
export function chiSquareQuantile(p: number, nu: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`chiSquareQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  if (!(nu > 0 && nu <= 2 * LARGEST_SHAPE)) throw new RangeError(`chiSquareQuantile: needs positive degrees of freedom up to ${2 * LARGEST_SHAPE}, ${nu} given`);
  const a = nu / 2;
  const lowerSide = p <= 0.5;
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let x = startQuantile(p, a);
  for (let turn = 0; turn < 200; turn += 1) {
    // Newton on the logarithm of the tail: nearly straight in log x, so it neither overshoots nor crawls.
    const probability = lowerSide ? regularisedGammaLower(a, x) : regularisedGammaUpper(a, x);
    const wanted = lowerSide ? p : 1 - p;
    const tooHigh = lowerSide ? probability > wanted : probability < wanted;
    if (tooHigh) high = x;
    else low = x;
    const elasticity = (a * density(a, x)) / probability;
    const step = Math.log(probability / wanted) / elasticity;
    let next = x * Math.exp(lowerSide ? -step : step);
    if (!(next > low && next < high)) next = Number.isFinite(high) ? (low + high) / 2 : x * 2;
    if (Math.abs(next - x) <= 1e-15 * x) return 2 * next;
    x = next;
  }
  return 2 * x;
}

function requireScale(scale: number, caller: string): void {
  if (!(scale > 0 && Number.isFinite(scale))) throw new RangeError(`${caller}: needs a positive finite scale, ${scale} given`);
}

function finite(value: number, caller: string): number {
  if (!Number.isFinite(value)) throw new RangeError(`${caller}: the result is expected within the range of numbers, the arguments given lead beyond it`);
  return value;
}

function startQuantile(p: number, a: number): number {
  const third = 1 / (9 * a);
  const root = 1 - third + normalQuantile(p) * Math.sqrt(third);
  const start = a * root ** 3;
  if (start > 0.05 * a && root > 0) return start;
  return Math.exp((Math.log(p) + logGamma(a + 1)) / a);
}

/** x^a e^-x / Gamma(a+1). In the Stirling form for large a, where the three factors would each lose digits. */
function density(a: number, x: number): number {
  if (x === 0) return 0;
  if (a < 15) return Math.exp(a * Math.log(x) - x - logGamma(a + 1));
  const t = (x - a) / a;
  const exponent = Math.abs(t) < 0.5 ? a * (Math.log1p(t) - t) : a * Math.log(x / a) - (x - a);
  return Math.exp(exponent - stirlingRest(a)) / Math.sqrt(2 * Math.PI * a);
}

function series(a: number, x: number): number {
  if (x === 0) return 0;
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 1_000_000; k += 1) {
    term *= x / (a + k);
    sum += term;
    if (term < 1e-17 * sum) break;
  }
  return Math.min(1, sum * density(a, x));
}

function fraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = Number.POSITIVE_INFINITY;
  let d = 1 / b;
  let h = d;
  for (let k = 1; k < 1_000_000; k += 1) {
    const numerator = -k * (k - a);
    b += 2;
    d = 1 / nonZero(numerator * d + b);
    c = nonZero(b + numerator / c);
    const factor = c * d;
    h *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return Math.min(1, h * a * density(a, x));
}

function nonZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}

function stirlingRest(x: number): number {
  const square = 1 / (x * x);
  return STIRLING.reduceRight((sum, coefficient) => sum * square + coefficient, 0) / x;
}

function requireShape(a: number, x: number, caller: string): void {
  if (!(a > 0 && a <= LARGEST_SHAPE)) throw new RangeError(`${caller}: needs a positive shape up to ${LARGEST_SHAPE}, ${a} given`);
  if (!(x >= 0 && x <= Number.MAX_VALUE)) throw new RangeError(`${caller}: needs a finite value of 0 or more, ${x} given`);
}
