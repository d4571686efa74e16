import { varies } from '../charts/limits-basis.js';
import { chiSquareUpperTail } from '../distributions/gamma.js';
import { normalUpperTail } from '../distributions/normal.js';
import { mean as meanOf } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';

/** A statistic brought to a standard normal under normality, and the two-sided probability of one as far out. */
export type ShapeTest = { readonly z: number; readonly p: number };

/** All without unit. Null where there are too few values for the figure or the formula of its test. */
export type Shape = {
  readonly n: number;
  /** g1 = m3 / m2^1.5, moments with divisor n. */
  readonly skewness: number;
  /** G1 = g1 sqrt(n(n-1)) / (n-2), n of 3 or more. */
  readonly skewnessAdjusted: number | null;
  /** b2 = m4 / m2^2, which is 3 for a normal. */
  readonly kurtosis: number;
  /** g2 = b2 - 3. */
  readonly excess: number;
  /** G2 = (n-1) ((n+1) g2 + 6) / ((n-2)(n-3)), n of 4 or more. */
  readonly excessAdjusted: number | null;
  /** D'Agostino 1970, n of 8 or more. */
  readonly skewnessTest: ShapeTest | null;
  /** Anscombe & Glynn 1983, n of 20 or more. */
  readonly kurtosisTest: ShapeTest | null;
  /** K2, the sum of both squares against chi-square with 2 degrees of freedom (D'Agostino & Pearson 1973). */
  readonly both: { readonly k2: number; readonly p: number } | null;
};

/**
 * Skewness and kurtosis in the definitions in use, each named, with the tests against a normal.
 * Source: Joanes & Gill 1998, "Comparing measures of sample skewness and kurtosis", The Statistician 47(1), for the
 * definitions; D'Agostino, Belanger & D'Agostino 1990, The American Statistician 44(4), for the tests.
 * @throws RangeError under 2 values, when one is NaN or infinite, or when they do not vary
 */
export function shape(values: ArrayLike<number>): Shape {
  const n = values.length;
  const centre = meanOf(values);
  const sd = standardDeviation(values, 'shape');
  if (!varies(sd, centre)) throw new RangeError('shape: needs values that vary, all alike to the resolution of the gauge given');
  let cubes = 0;
  let fourths = 0;
  for (let i = 0; i < n; i += 1) {
    // In units of the sd, so that neither tiny nor huge units leave the range of numbers in the fourth power.
    const z = ((values[i] as number) - centre) / sd;
    cubes += z * z * z;
    fourths += z * z * z * z;
  }
  const m2 = (n - 1) / n;
  const skewness = cubes / n / m2 ** 1.5;
  const kurtosis = fourths / n / (m2 * m2);
  const excess = kurtosis - 3;
  const skewnessTest = n < 8 ? null : testSkewness(skewness, n);
  const kurtosisTest = n < 20 ? null : testKurtosis(kurtosis, n);
  const k2 = skewnessTest && kurtosisTest ? skewnessTest.z ** 2 + kurtosisTest.z ** 2 : null;
  return {
    n, skewness, kurtosis, excess,
    skewnessAdjusted: n < 3 ? null : (skewness * Math.sqrt(n * (n - 1))) / (n - 2),
    excessAdjusted: n < 4 ? null : ((n - 1) * ((n + 1) * excess + 6)) / ((n - 2) * (n - 3)),
    skewnessTest, kurtosisTest,
    both: k2 === null ? null : { k2, p: chiSquareUpperTail(k2, 2) },
  };
}

/** D'Agostino 1970, "Transformation to normality of the null distribution of g1", Biometrika 57(3). */
function testSkewness(g1: number, n: number): ShapeTest {
  const y = g1 * Math.sqrt(((n + 1) * (n + 3)) / (6 * (n - 2)));
  const beta2 = (3 * (n * n + 27 * n - 70) * (n + 1) * (n + 3)) / ((n - 2) * (n + 5) * (n + 7) * (n + 9));
  const w2 = Math.sqrt(2 * (beta2 - 1)) - 1;
  const delta = 1 / Math.sqrt(Math.log(w2) / 2);
  const alpha = Math.sqrt(2 / (w2 - 1));
  return tested(delta * Math.asinh(y / alpha));
}

/** Anscombe & Glynn 1983, "Distribution of the kurtosis statistic b2 for normal statistics", Biometrika 70(1). */
function testKurtosis(b2: number, n: number): ShapeTest | null {
  const expected = (3 * (n - 1)) / (n + 1);
  const variance = (24 * n * (n - 2) * (n - 3)) / ((n + 1) ** 2 * (n + 3) * (n + 5));
  const x = (b2 - expected) / Math.sqrt(variance);
  const root = ((6 * (n * n - 5 * n + 2)) / ((n + 7) * (n + 9))) * Math.sqrt((6 * (n + 3) * (n + 5)) / (n * (n - 2) * (n - 3)));
  const a = 6 + (8 / root) * (2 / root + Math.sqrt(1 + 4 / (root * root)));
  // A kurtosis far below the normal one makes the base negative; its cube root keeps the sign.
  const base = (1 - 2 / a) / (1 + x * Math.sqrt(2 / (a - 4)));
  if (!Number.isFinite(base)) return null;
  const third = Math.cbrt(base);
  return tested((1 - 2 / (9 * a) - third) / Math.sqrt(2 / (9 * a)));
}

function tested(z: number): ShapeTest {
  return { z, p: 2 * normalUpperTail(Math.abs(z)) };
}
