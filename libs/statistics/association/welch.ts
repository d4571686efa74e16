import { studentTQuantile, studentTUpperTail } from '../distributions/student-t.js';
import { momentsOf } from './samples.js';

export type MeanDifference = {
  /** Mean of b less mean of a, in the unit of the values, with its two-sided interval. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly t: number;
  readonly df: number;
  /** Two-sided. */
  readonly p: number;
};

/**
 * Whether two means differ, without taking the variances as equal.
 * Source: Welch 1947, "The generalization of 'Student's' problem when several different population variances are
 * involved", Biometrika 34; degrees of freedom after Satterthwaite 1946. `pooled` gives Student's 1908 test instead.
 * @throws RangeError under 2 values a sample, NaN, infinity or squares beyond the range, when neither varies, or confidence is not strictly between 0 and 1
 */
export function welchTest(a: readonly number[], b: readonly number[], options: { readonly confidence?: number; readonly pooled?: boolean } = {}): MeanDifference {
  const caller = 'welchTest';
  const { confidence = 0.95, pooled = false } = options;
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`${caller}: needs a confidence strictly between 0 and 1, ${confidence} given`);
  const [first, second] = [momentsOf(a, caller, 'the first sample'), momentsOf(b, caller, 'the second sample')];
  const difference = second.mean - first.mean;
  const common = ((first.n - 1) * first.variance + (second.n - 1) * second.variance) / (first.n + second.n - 2);
  const parts = pooled ? [common / first.n, common / second.n] as const : [first.variance / first.n, second.variance / second.n] as const;
  const squared = parts[0] + parts[1];
  if (!(squared > 1e-300)) throw new RangeError(`${caller}: needs values that vary in at least one sample, none given does`);
  // As shares of the sum, so that no square leaves the range of numbers.
  const df = pooled ? first.n + second.n - 2 : 1 / ((parts[0] / squared) ** 2 / (first.n - 1) + (parts[1] / squared) ** 2 / (second.n - 1));
  const error = Math.sqrt(squared);
  const t = difference / error;
  const half = studentTQuantile((1 + confidence) / 2, df) * error;
  if (![t, half, difference - half, difference + half].every(Number.isFinite)) throw new RangeError(`${caller}: needs values of like size, those given lead beyond the range of numbers`);
  return { difference, low: difference - half, high: difference + half, t, df, p: Math.min(1, 2 * studentTUpperTail(Math.abs(t), df)) };
}
