import { fQuantile } from '../distributions/f.js';
import { chiSquareQuantile } from '../distributions/gamma.js';
import { findRoot } from '../numeric/find-root.js';
import { requireConfidence } from './mean-square.js';

/** One mean square of a linear combination; the coefficient may be negative. */
export type Term = { readonly coefficient: number; readonly ms: number; readonly df: number };
export type Bounds = { readonly low: number; readonly high: number };

/**
 * Two-sided interval of a linear combination of expected mean squares, in the squared unit of the readings, by modified
 * large samples. All coefficients of one sign: Graybill & Wang 1980, "Confidence intervals on nonnegative linear
 * combinations of variances", JASA 75. Mixed signs: Ting, Burdick, Graybill, Jeyaratnam & Lu 1990, "Confidence
 * intervals on linear combinations of variance components that are unrestricted in sign", J. Statist. Comput. Simul.
 * 35; both as in Burdick, Borror & Montgomery 2005, Design and Analysis of Gauge R&R Studies. One term: exact.
 * The bounds are raw: a low one may be negative and is for the caller to cut.
 * @throws RangeError when empty, a mean square is negative, a df under 1, or confidence not strictly between 0 and 1
 */
export function combinationInterval(terms: readonly Term[], confidence = 0.95): Bounds {
  requireConfidence(confidence, 'combinationInterval');
  const given = terms.filter(({ coefficient }) => coefficient !== 0);
  if (given.length === 0) throw new RangeError('combinationInterval: needs at least 1 term with a coefficient, 0 given');
  given.forEach(({ coefficient, ms, df }, i) => {
    if (!(Number.isFinite(coefficient) && Number.isFinite(ms) && ms >= 0 && Number.isFinite(df) && df >= 1)) {
      throw new RangeError(`combinationInterval: needs a finite coefficient, a mean square of 0 or more and a df of 1 or more, term ${i + 1} is ${coefficient}, ${ms}, ${df}`);
    }
  });
  const risk = (1 - confidence) / 2;
  // Taken as parts of the largest, so that their squares stay within the range of numbers.
  const size = Math.max(...given.map(({ coefficient, ms }) => Math.abs(coefficient) * ms));
  if (!(size > 0 && Number.isFinite(size))) return refuseOrNothing(size);
  const used = given.map((term) => ({ ...term, ms: term.ms / size }));
  const plus = used.filter(({ coefficient }) => coefficient > 0);
  const minus = used.filter(({ coefficient }) => coefficient < 0).map((term) => ({ ...term, coefficient: -term.coefficient }));
  const estimate = used.reduce((sum, { coefficient, ms }) => sum + coefficient * ms, 0);
  // The upper bound of a combination is the lower bound of its mirror image, since F(risk; a, b) is 1/F(1-risk; b, a).
  return { low: size * (estimate - Math.sqrt(below(plus, minus, risk))), high: finite(size * (estimate + Math.sqrt(below(minus, plus, risk)))) };
}

function finite(bound: number): number {
  if (!Number.isFinite(bound)) throw new RangeError('combinationInterval: needs mean squares whose bounds are within the range of numbers, larger ones given');
  return bound;
}

function refuseOrNothing(size: number): Bounds {
  finite(size);
  return { low: 0, high: 0 };
}

/** (1 - nu/chi-square(1-risk))^2 and (nu/chi-square(risk) - 1)^2: how far one mean square may lie from its expectation. */
const down = (df: number, risk: number): number => 1 - df / chiSquareQuantile(1 - risk, df);
const up = (df: number, risk: number): number => df / chiSquareQuantile(risk, df) - 1;

/** Squared distance from the estimate to the lower bound of sum(plus) - sum(minus). */
function below(plus: readonly Term[], minus: readonly Term[], risk: number): number {
  let variance = 0;
  for (const { coefficient, ms, df } of plus) variance += (down(df, risk) * coefficient * ms) ** 2;
  for (const { coefficient, ms, df } of minus) variance += (up(df, risk) * coefficient * ms) ** 2;
  for (const a of plus) for (const b of minus) variance += crossed(a.df, b.df, risk) * a.coefficient * a.ms * b.coefficient * b.ms;
  if (minus.length > 0) variance += pairs(plus, risk);
  return Math.max(0, variance);
}

function crossed(df: number, against: number, risk: number): number {
  const f = fQuantile(1 - risk, df, against);
  return ((f - 1) ** 2 - (down(df, risk) * f) ** 2 - up(against, risk) ** 2) / f;
}

/** The extra term for each pair of the same sign, spread over the others (Ting et al. 1990). */
function pairs(terms: readonly Term[], risk: number): number {
  let sum = 0;
  terms.forEach((a, i) => {
    for (const b of terms.slice(i + 1)) {
      const both = a.df + b.df;
      const extra = (down(both, risk) * both) ** 2 / (a.df * b.df) - (down(a.df, risk) ** 2 * a.df) / b.df - (down(b.df, risk) ** 2 * b.df) / a.df;
      sum += (extra / (terms.length - 1)) * a.coefficient * a.ms * b.coefficient * b.ms;
    }
  });
  return sum;
}

/**
 * Interval of the ratio of two combinations of the same mean squares (variance of the parts over that of the gauge): the
 * ratios R for which the interval of numerator - R denominator holds 0. Both must list the same mean squares in the
 * same order. Cut at 0; `high` is null where no ratio is too large, the ratio itself null where the gauge has no variance.
 * Source: the inversion of Fieller 1954 on the interval of Ting et al. 1990.
 * @throws RangeError as combinationInterval
 */
export function ratioInterval(numerator: readonly Term[], denominator: readonly Term[], confidence = 0.95): { readonly low: number; readonly high: number | null } | null {
  const value = (terms: readonly Term[]): number => terms.reduce((sum, { coefficient, ms }) => sum + coefficient * ms, 0);
  const [top, bottom] = [value(numerator), value(denominator)];
  if (!(bottom > 0)) return null;
  const ratio = top / bottom;
  if (!Number.isFinite(ratio)) return null;
  const at = (r: number): Bounds => combinationInterval(numerator.map((term, i) => ({ ...term, coefficient: term.coefficient - r * (denominator[i]?.coefficient ?? 0) })), confidence);
  const low = ratio > 0 && at(0).low > 0 ? rootOf((r) => at(r).low, 0, ratio) : 0;
  if (at(0).high <= 0) return { low, high: 0 };
  if (combinationInterval(denominator, confidence).low <= 0) return { low, high: null };
  let end = Math.max(1, 2 * ratio);
  for (let turn = 0; turn < 200 && at(end).high > 0; turn += 1) end *= 2;
  if (at(end).high > 0) return { low, high: null };
  return { low, high: rootOf((r) => at(r).high, Math.max(0, ratio), end) };
}

/** At the estimate itself rounding may leave the bound on either side of 0. */
function rootOf(f: (r: number) => number, from: number, to: number): number {
  const [start, end] = [f(from), f(to)];
  if (start === 0 || start > 0 === end > 0) return start > 0 ? to : from;
  return findRoot(f, from, to);
}

/**
 * Interval of a sum of variances treated as one chi-square with the effective df (sum)^2 / sum((c ms)^2 / df).
 * Source: Satterthwaite 1946, "An approximate distribution of estimates of variance components", Biometrics Bulletin 2.
 * All coefficients positive; with nothing that varies both bounds are 0 and df is null.
 * @throws RangeError when a mean square or coefficient is negative, confidence is not strictly between 0 and 1, or a bound is beyond the range of numbers
 */
export function satterthwaite(terms: readonly Term[], confidence = 0.95): Bounds & { readonly df: number | null } {
  requireConfidence(confidence, 'satterthwaite');
  terms.forEach(({ coefficient, ms, df }, i) => {
    if (!(coefficient >= 0 && ms >= 0 && df > 0)) throw new RangeError(`satterthwaite: needs coefficients and mean squares of 0 or more and a df above 0, term ${i + 1} is ${coefficient}, ${ms}, ${df}`);
  });
  const sum = terms.reduce((total, { coefficient, ms }) => total + coefficient * ms, 0);
  if (!(sum > 0)) return { low: 0, high: 0, df: null };
  const df = 1 / terms.reduce((total, term) => total + ((term.coefficient * term.ms) / sum) ** 2 / term.df, 0);
  const risk = (1 - confidence) / 2;
  const [low, high] = [(df * sum) / chiSquareQuantile(1 - risk, df), (df * sum) / chiSquareQuantile(risk, df)];
  if (!(Number.isFinite(low) && Number.isFinite(high))) throw new RangeError('satterthwaite: needs mean squares whose interval is within the range of numbers, larger ones given');
  return { low, high, df };
}
