import { logGamma, regularisedGammaLower, regularisedGammaUpper } from '../../distributions/gamma.js';
import { requireFinite } from '../../numeric/require-finite.js';
import { type AndersonDarling, andersonDarling } from '../anderson-darling.js';
import { sortedCopy } from '../sorted-copy.js';
import type { Parameters } from './family.js';
import { gammaFitP, weibullFitP } from './fit-p-values.js';

/** Whether the values may come from the family, its parameters having been estimated from the same values. */
export type Goodness = Pick<AndersonDarling, 'a2' | 'p' | 'pIsUpperBound'> & { readonly n: number };

/** As for the normal: simulations do not reach smaller values. */
const SMALLEST_P = 1e-6;

/**
 * Anderson-Darling test of a fitted family, by maximum likelihood for Weibull and gamma, mean and sd (divisor n-1) of the
 * values or of their logarithms for normal and lognormal.
 * p of normal and lognormal: D'Agostino & Stephens 1986, table 4.9 (see andersonDarling).
 * p of Weibull and gamma: surfaces fitted to simulations, see fit-p-values.ts.
 * Digits of A2: 1e-9; gamma above 4000 values 1e-5 absolute, its tails being read from a table.
 * @returns null under 8 values
 * @throws RangeError when a value is not finite, does not vary, or is not above the threshold
 */
export function goodnessOfFit(values: ArrayLike<number>, fit: Parameters): Goodness | null {
  const n = values.length;
  requireFinite(values, 1, 'goodnessOfFit');
  if (n < 8) return null;
  if (fit.family === 'normal') return plain(andersonDarling(values));
  const logs = sortedCopy(values);
  const [scale, logScale] = fit.family === 'lognormal' ? [Math.exp(fit.mu), fit.mu] : [fit.scale, Math.log(fit.scale)];
  for (let i = 0; i < n; i += 1) {
    const excess = (logs[i] as number) - fit.threshold;
    if (!(excess > 0)) throw new RangeError(`goodnessOfFit: needs values above the threshold ${fit.threshold}, ${logs[i]} given`);
    logs[i] = logRatio(excess, scale, logScale);
  }
  if (fit.family === 'lognormal') return plain(andersonDarling(logs));
  const { shape } = fit;
  if (fit.family === 'weibull') {
    const a2 = statistic(logs, (log) => [logWeibullBelow(shape * log), -Math.exp(shape * log)]);
    return judged(a2, n, weibullFitP(a2, n));
  }
  const a2 = statistic(logs, gammaTails(shape, n > TABLE_FROM ? [logs[0] as number, logs[n - 1] as number] : null));
  return judged(a2, n, gammaFitP(a2, n, shape));
}

/** Of the quotient, which keeps more digits near 1, unless it is beyond the range of numbers. */
function logRatio(excess: number, scale: number, logScale: number): number {
  const ratio = excess / scale;
  return ratio > 1e-300 && ratio < 1e300 ? Math.log(ratio) : Math.log(excess) - logScale;
}

const plain = ({ n, a2, p, pIsUpperBound }: AndersonDarling): Goodness => ({ n, a2, p, pIsUpperBound });

function judged(a2: number, n: number, p: number): Goodness {
  return { n, a2, p: Math.max(p, SMALLEST_P), pIsUpperBound: p < SMALLEST_P };
}

type Tails = (log: number) => readonly [below: number, above: number];

/** A2 from the logarithms of both tails at each value in rising order; the rounding of the sum is carried along. */
function statistic(logs: Float64Array, tails: Tails): number {
  const n = logs.length;
  let sum = n * n;
  let rest = 0;
  for (let i = 0; i < n; i += 1) {
    const [below, above] = tails(logs[i] as number);
    const term = (2 * i + 1) * below + (2 * (n - i) - 1) * above;
    const next = sum + term;
    rest += Math.abs(sum) >= Math.abs(term) ? sum - next + term : term - next + sum;
    sum = next;
  }
  // Never 0 for data, but rounding must not make it negative: its logarithm is taken.
  return Math.max(1e-12, -(sum + rest) / n);
}

/** log(1 - exp(-e^y)), which far below is y itself. */
function logWeibullBelow(y: number): number {
  return y < -23 ? y : Math.log(-Math.expm1(-Math.exp(y)));
}

/** Above so many values both tails are read from a table: each costs a series of dozens to thousands of terms. */
const TABLE_FROM = 4000;
const KNOTS = 2000;

/** log P and log Q of a gamma at the logarithm of x/scale. */
function gammaTails(shape: number, span: readonly [number, number] | null): Tails {
  const exact: Tails = (log) => {
    const u = Math.exp(log);
    const below = regularisedGammaLower(shape, u);
    const above = regularisedGammaUpper(shape, u);
    // Where a tail underflows its leading term is all that is left of it; A2 is then far beyond every level.
    return [
      below > 1e-290 ? Math.log(below) : shape * log - u - logGamma(shape + 1),
      above > 1e-290 ? Math.log(above) : (shape - 1) * log - u - logGamma(shape),
    ];
  };
  if (!span) return exact;
  // Cubic Hermite pieces: derivatives of log P and log Q by log x are the density over the tail, known exactly.
  const [from, to] = span;
  const width = (to - from) / KNOTS;
  const below = new Float64Array(2 * (KNOTS + 1));
  const above = new Float64Array(2 * (KNOTS + 1));
  for (let k = 0; k <= KNOTS; k += 1) {
    const log = from + k * width;
    const [p, q] = exact(log);
    const density = shape * log - Math.exp(log) - logGamma(shape);
    below.set([p, width * Math.exp(density - p)], 2 * k);
    above.set([q, -width * Math.exp(density - q)], 2 * k);
  }
  return (log) => {
    const place = Math.min(KNOTS - 1e-9, Math.max(0, (log - from) / width));
    const k = Math.floor(place);
    return [hermite(below, 2 * k, place - k), hermite(above, 2 * k, place - k)];
  };
}

function hermite(knots: Float64Array, at: number, t: number): number {
  const [a, da, b, db] = [knots[at] as number, knots[at + 1] as number, knots[at + 2] as number, knots[at + 3] as number];
  const rise = b - a;
  return a + t * (da + t * (3 * rise - 2 * da - db + t * (da + db - 2 * rise)));
}
