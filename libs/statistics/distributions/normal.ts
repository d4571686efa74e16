/*
 * The standard normal distribution. Capability work lives in the far tail (parts per billion at six sigma), so the
 * tail is computed for itself and never as one minus the body.
 *
 * Body and tail: W. J. Cody 1969, "Rational Chebyshev approximations for the error function", Mathematics of
 * Computation 23, in the form rescaled to the normal integral (W. J. Cody 1993, ACM Algorithm 715).
 * Quantile: M. J. Wichura 1988, Algorithm AS 241 (PPND16), Applied Statistics 37.
 * Coefficients are quoted from memory, rounded to double precision; the spec holds every region against 40-digit values made with mpmath.
 */

const SQRT_32 = Math.sqrt(32);
const INVERSE_SQRT_2_PI = 0.3989422804014327;

const CENTRE_TOP = [2.2352520354606837, 161.02823106855587, 1067.6894854603709, 18154.98125334356, 0.06568233791820745] as const;
const CENTRE_BOTTOM = [47.202581904688245, 976.0985517377767, 10260.932208618979, 45507.78933502673] as const;
const MIDDLE_TOP = [
  0.39894151208813466, 8.883149794388377, 93.50665613217785, 597.2702763948002, 2494.5375852903726,
  6848.190450536283, 11602.65143764735, 9842.714838383978, 1.0765576773720192e-8,
] as const;
const MIDDLE_BOTTOM = [
  22.266688044328117, 235.387901782625, 1519.3775994075547, 6485.558298266761, 18615.571640885097,
  34900.95272114598, 38912.00328609327, 19685.429676859992,
] as const;
const FAR_TOP = [0.215898534057957, 0.12740116116024736, 0.022235277870649807, 0.0014216191932278934, 0.000029112874951168793, 0.023073441764940174] as const;
const FAR_BOTTOM = [1.284260096144911, 0.4682382124808651, 0.06598813786892856, 0.0037823963320275824, 0.00007297515550839662] as const;

/**
 * P(Z <= z). Relative error below 1e-12 for z down to -37.5 as well; below that the result is subnormal, then 0.
 * @throws RangeError when z is NaN
 */
export function normalCdf(z: number): number {
  requireNumber(z, 'normalCdf');
  if (z < -0.67448975) return tail(-z);
  if (z > 0.67448975) return 1 - tail(z);
  return 0.5 + centre(z);
}

/**
 * P(Z > z), accurate in the upper tail: relative error below 1e-12 up to z = 37.5 (2e-308), subnormal beyond, 0 from 38.6.
 * @throws RangeError when z is NaN
 */
export function normalUpperTail(z: number): number {
  requireNumber(z, 'normalUpperTail');
  return normalCdf(-z);
}

/**
 * Natural logarithm of P(Z > z), finite where the tail itself underflows: above z = 37 the asymptotic series of
 * Abramowitz & Stegun 1964, 26.2.12, five terms, whose error there is below 1e-13.
 * @throws RangeError when z is NaN or above 1e150
 */
export function logNormalUpperTail(z: number): number {
  requireNumber(z, 'logNormalUpperTail');
  if (z > 1e150) throw new RangeError(`logNormalUpperTail: needs a number of sigmas whose square is a number, ${z} given`);
  if (z <= 37) return z < -1 ? Math.log1p(-normalCdf(z)) : Math.log(normalUpperTail(z));
  const r = 1 / (z * z);
  const series = -r * (1 - 3 * r * (1 - 5 * r * (1 - 7 * r * (1 - 9 * r))));
  return -0.5 * z * z - Math.log(z / INVERSE_SQRT_2_PI) + Math.log1p(series);
}

/** Density of the standard normal at z. @throws RangeError when z is NaN */
export function normalDensity(z: number): number {
  requireNumber(z, 'normalDensity');
  return INVERSE_SQRT_2_PI * Math.exp(-0.5 * z * z);
}

/**
 * The z with P(Z <= z) = p, about 1e-15 relative.
 * @throws RangeError when p is not strictly between 0 and 1
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`normalQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(QUANTILE_A, r)) / polynomial(QUANTILE_B, r);
  }
  const smaller = q < 0 ? p : 1 - p;
  const r = Math.sqrt(-Math.log(smaller));
  const z = r <= 5 ? polynomial(QUANTILE_C, r - 1.6) / polynomial(QUANTILE_D, r - 1.6) : polynomial(QUANTILE_E, r - 5) / polynomial(QUANTILE_F, r - 5);
  return q < 0 ? -z : z;
}

const QUANTILE_A = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
  33430.57558358813, 2509.0809287301227,
] as const;
const QUANTILE_B = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
  5226.495278852854,
] as const;
const QUANTILE_C = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
  0.022723844989269184, 0.0007745450142783414,
] as const;
const QUANTILE_D = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
  0.0005475938084995345, 1.0507500716444169e-9,
] as const;
const QUANTILE_E = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124, 0.0012426609473880784,
  0.000027115555687434876, 2.0103343992922881e-7,
] as const;
const QUANTILE_F = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 0.000018463183175100548,
  1.421511758316446e-7, 2.0442631033899397e-15,
] as const;

/** P(0 < Z <= z) with the sign of z, for |z| up to 0.675. */
function centre(z: number): number {
  const square = z * z;
  let top = CENTRE_TOP[4] * square;
  let bottom = square;
  for (let i = 0; i < 3; i += 1) {
    top = (top + (CENTRE_TOP[i] as number)) * square;
    bottom = (bottom + (CENTRE_BOTTOM[i] as number)) * square;
  }
  return (z * (top + CENTRE_TOP[3])) / (bottom + CENTRE_BOTTOM[3]);
}

/** P(Z > z) for z above 0.674. */
function tail(z: number): number {
  if (z > 39) return 0;
  let factor: number;
  if (z <= SQRT_32) {
    let top = MIDDLE_TOP[8] * z;
    let bottom = z;
    for (let i = 0; i < 7; i += 1) {
      top = (top + (MIDDLE_TOP[i] as number)) * z;
      bottom = (bottom + (MIDDLE_BOTTOM[i] as number)) * z;
    }
    factor = (top + MIDDLE_TOP[7]) / (bottom + MIDDLE_BOTTOM[7]);
  } else {
    const square = 1 / (z * z);
    let top = FAR_TOP[5] * square;
    let bottom = square;
    for (let i = 0; i < 4; i += 1) {
      top = (top + (FAR_TOP[i] as number)) * square;
      bottom = (bottom + (FAR_BOTTOM[i] as number)) * square;
    }
    factor = (INVERSE_SQRT_2_PI - (square * (top + FAR_TOP[4])) / (bottom + FAR_BOTTOM[4])) / z;
  }
  // exp(-z*z/2) in two factors whose exponents are exact, else rounding of z*z alone costs three digits at 30 sigma.
  const coarse = Math.trunc(z * 16) / 16;
  const half = Math.exp(-0.25 * coarse * coarse);
  return half * (factor * Math.exp(-0.5 * (z - coarse) * (z + coarse))) * half;
}

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

function requireNumber(z: number, caller: string): void {
  if (!(z >= Number.NEGATIVE_INFINITY)) throw new RangeError(`${caller}: needs a number of sigmas, ${z} given`);
}
