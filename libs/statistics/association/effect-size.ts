import { logGamma } from '../distributions/gamma.js';
import { noncentralTCdf } from '../distributions/noncentral-t.js';
import { findRoot } from '../numeric/find-root.js';
import { momentsOf } from './samples.js';

export type StandardisedDifference = {
  /** Mean of b less mean of a in pooled sds, without the small-sample bias (Hedges' g). */
  readonly g: number;
  readonly low: number;
  readonly high: number;
};

/**
 * How large a difference of two means is against their spread. g = J d, J = Gamma(m/2) / (sqrt(m/2) Gamma((m-1)/2)), m = n1+n2-2.
 * Source: Hedges 1981, "Distribution theory for Glass's estimator of effect size and related estimators", Journal of
 * Educational Statistics 6. The interval is exact for equal variances: noncentral t (Steiger & Fouladi 1997), times J.
 * @throws RangeError as the pooled t test, when the pooled sd is 0, or the difference is more than 1e4 sds
 */
export function standardisedDifference(a: readonly number[], b: readonly number[], confidence = 0.95): StandardisedDifference {
  const caller = 'standardisedDifference';
  if (!(confidence >= 0.01 && confidence <= 0.9999)) throw new RangeError(`${caller}: needs a confidence from 0.01 to 0.9999, ${confidence} given`);
  const [first, second] = [momentsOf(a, caller, 'the first sample'), momentsOf(b, caller, 'the second sample')];
  const m = first.n + second.n - 2;
  const sd = Math.sqrt(((first.n - 1) * first.variance + (second.n - 1) * second.variance) / m);
  const d = (second.mean - first.mean) / sd;
  if (!(sd > 0 && Math.abs(d) <= 1e4)) throw new RangeError(`${caller}: needs values that vary within samples against their difference, those given do not`);
  const bias = Math.exp(logGamma(m / 2) - logGamma((m - 1) / 2)) / Math.sqrt(m / 2);
  const root = Math.sqrt(1 / (1 / first.n + 1 / second.n));
  const t = d * root;
  const risk = (1 - confidence) / 2;
  // The noncentrality at which the t that was found would be just so rare.
  const at = (wanted: number): number => findRoot((delta) => noncentralTCdf(t, m, delta) - wanted, t - reach(t, m), t + reach(t, m));
  return { g: bias * d, low: (bias * at(1 - risk)) / root, high: (bias * at(risk)) / root };
}

/** Far enough from t on both sides: t / s varies by t / sqrt(2 m) beside the unit of the normal. */
const reach = (t: number, m: number): number => 8 + (8 * Math.abs(t)) / Math.sqrt(m);
