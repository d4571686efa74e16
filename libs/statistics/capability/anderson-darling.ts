import { varies } from '../charts/limits-basis.js';
import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { weightedLogTails } from './log-tails.js';
import { sortedCopy } from './sorted-copy.js';

export type AndersonDarling = {
  readonly n: number;
  /** The unadjusted statistic, mean and sd estimated from the values. */
  readonly a2: number;
  /** a2 (1 + 0.75/n + 2.25/n^2), what p is taken from. Older prints adjust by (1 + 4/n - 25/n^2) instead. */
  readonly a2Star: number;
  readonly p: number;
  /** True where p is only known to be below the value given. */
  readonly pIsUpperBound: boolean;
};

/** The p formula was fitted to simulations that do not reach smaller values, and it turns up again far out. */
const SMALLEST_P = 1e-6;

/**
 * Test of whether values may come from a normal distribution; small p = they may not.
 * Source: Anderson & Darling 1954; adjustment and p after D'Agostino & Stephens 1986, Goodness-of-Fit Techniques,
 * table 4.9 (coefficients quoted from memory). By simulation (n = 20, 42, 100) within 5 % of the true p below 0.3 and up
 * to 0.03 too low between 0.5 and 0.6. Readings rounded to a coarse gauge step make p too small.
 * @throws RangeError under 8 values, when a value is NaN or infinite, or when all are alike
 */
export function andersonDarling(values: ArrayLike<number>): AndersonDarling {
  const n = values.length;
  if (n < 8) throw new RangeError(`andersonDarling: needs at least 8 values, ${n} given`);
  const centre = mean(values);
  const sd = standardDeviation(values, 'andersonDarling');
  if (!varies(sd, centre)) throw new RangeError('andersonDarling: needs values that differ, those given do not vary at the resolution of the gauge');
  return normalJudgement(-weightedLogTails(sortedCopy(values), centre, sd) / n, n);
}

/** What a statistic against a normal with estimated mean and sd says; also of logarithms against a lognormal. @throws RangeError when the statistic is not finite or n not 1 or more */
export function normalJudgement(a2: number, n: number): AndersonDarling {
  if (!(Number.isFinite(a2) && Number.isFinite(n) && n >= 1)) throw new RangeError(`normalJudgement: needs a finite statistic of 1 or more values, ${a2} of ${n} given`);
  const a2Star = a2 * (1 + 0.75 / n + 2.25 / (n * n));
  const p = pValue(a2Star);
  return { n, a2, a2Star, p: Math.max(p, SMALLEST_P), pIsUpperBound: p < SMALLEST_P };
}

function pValue(a: number): number {
  if (a > 10) return 0;
  if (a >= 0.6) return Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
  if (a > 0.34) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  if (a > 0.2) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
}
