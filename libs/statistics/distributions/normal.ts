/*
 * The standard normal distribution. Capability work lives in the far tail (parts per billion at six sigma), so the
 * tail is computed for itself and never as one minus the body.
 *
 * Body and tail: W. J. Cody 1969, "Rational Chebyshev approximations for the error function", Mathematics of
 * Computation 23, in the form rescaled to the normal integral (W. J. Cody 1993, ACM Algorithm 715).
 * Quantile: M. J. Wichura 1988, Algorithm AS 241 (PPND16), Applied Statistics 37.
 * Coefficients are quoted from memory; the spec holds every region against 40-digit values made with mpmath.
 */

const SQRT_32 = Math.sqrt(32);
const INVERSE_SQRT_2_PI = 0.398942280401432677939946;

const CENTRE_TOP = [2.2352520354606839287, 161.02823106855587881, 1067.6894854603709582, 18154.981253343561249, 0.065682337918207449113] as const;
const CENTRE_BOTTOM = [47.20258190468824187, 976.09855173777669322, 10260.932208618978205, 45507.789335026729956] as const;
const MIDDLE_TOP = [
  0.39894151208813466764, 8.8831497943883759412, 93.506656132177855979, 597.27027639480026226, 2494.5375852903726711,
  6848.1904505362823326, 11602.651437647350124, 9842.7148383839780218, 1.0765576773720192317e-8,
] as const;
const MIDDLE_BOTTOM = [
  22.266688044328115691, 235.38790178262499861, 1519.377599407554805, 6485.558298266760755, 18615.571640885098091,
  34900.952721145977266, 38912.003286093271411, 19685.429676859990727,
] as const;
const FAR_TOP = [0.21589853405795699, 0.1274011611602473639, 0.022235277870649807, 0.001421619193227893466, 2.9112874951168792e-5, 0.02307344176494017303] as const;
const FAR_BOTTOM = [1.28426009614491121, 0.468238212480865118, 0.0659881378689285515, 0.00378239633202758244, 7.29751555083966205e-5] as const;

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
 * @throws RangeError when z is NaN
 */
export function logNormalUpperTail(z: number): number {
  requireNumber(z, 'logNormalUpperTail');
  if (z <= 37) return z < -1 ? Math.log1p(-normalCdf(z)) : Math.log(normalUpperTail(z));
  const r = 1 / (z * z);
  const series = -r * (1 - 3 * r * (1 - 5 * r * (1 - 7 * r * (1 - 9 * r))));
  return -0.5 * z * z - Math.log(z / INVERSE_SQRT_2_PI) + Math.log1p(series);
}

/** Density of the standard normal at z. */
export function normalDensity(z: number): number {
  return INVERSE_SQRT_2_PI * Math.exp(-0.5 * z * z);
}

/**
 * The z with P(Z <= z) = p, about 1e-15 relative; p = 0 and p = 1 give the infinities.
 * @throws RangeError when p is outside 0 to 1 or NaN
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`normalQuantile: needs a probability from 0 to 1, ${p} given`);
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(QUANTILE_A, r)) / polynomial(QUANTILE_B, r);
  }
  const smaller = q < 0 ? p : 1 - p;
  if (smaller === 0) return q < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const r = Math.sqrt(-Math.log(smaller));
  const z = r <= 5 ? polynomial(QUANTILE_C, r - 1.6) / polynomial(QUANTILE_D, r - 1.6) : polynomial(QUANTILE_E, r - 5) / polynomial(QUANTILE_F, r - 5);
  return q < 0 ? -z : z;
}

const QUANTILE_A = [
  3.387132872796366608, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125, 45921.953931549871457, 67265.770927008700853,
  33430.575583588128105, 2509.0809287301226727,
] as const;
const QUANTILE_B = [
  1, 42.313330701600911252, 687.1870074920579083, 5394.1960214247511077, 21213.794301586595867, 39307.89580009271061, 28729.085735721942674,
  5226.495278852854561,
] as const;
const QUANTILE_C = [
  1.42343711074968357734, 4.6303378461565452959, 5.7694972214606914055, 3.64784832476320460504, 1.27045825245236838258, 0.24178072517745061177,
  0.0227238449892691845833, 7.7454501427834140764e-4,
] as const;
const QUANTILE_D = [
  1, 2.05319162663775882187, 1.6763848301838038494, 0.68976733498510000455, 0.14810397642748007459, 0.0151986665636164571966,
  5.475938084995344946e-4, 1.05075007164441684324e-9,
] as const;
const QUANTILE_E = [
  6.6579046435011037772, 5.4637849111641143699, 1.7848265399172913358, 0.29656057182850489123, 0.026532189526576123093, 0.0012426609473880784386,
  2.71155556874348757815e-5, 2.01033439929228813265e-7,
] as const;
const QUANTILE_F = [
  1, 0.59983220655588793769, 0.13692988092273580531, 0.0148753612908506148525, 7.868691311456132591e-4, 1.8463183175100546818e-5,
  1.4215117583164458887e-7, 2.04426310338993978564e-15,
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
  if (Number.isNaN(z)) throw new RangeError(`${caller}: needs a number of sigmas, NaN given`);
}
