import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { requireConfidence, requireInRange } from './mean-square.js';
import { sdInterval, type Tested, tested } from './straight-line.js';
import { requireStudyOptions, type StudyOptions } from './variation.js';

export type Repeatability = {
  readonly n: number;
  readonly mean: number;
  readonly sd: number;
  readonly interval: { readonly low: number; readonly high: number };
  /** Mean less reference, with its t test against 0; null without a reference. */
  readonly bias: Tested | null;
  /** Multiplier times sd over the tolerance, and bias over the tolerance (signed); null without a tolerance or a reference. */
  readonly ofTolerance: number | null;
  readonly ofToleranceInterval: { readonly low: number; readonly high: number } | null;
  readonly biasOfTolerance: number | null;
};

/**
 * One gauge, one appraiser, one master measured again and again: how far the gauge repeats itself, and how far it reads off.
 * Chi-square interval of the sd, t test and interval of the bias: NIST/SEMATECH e-Handbook 7.2.3 and 7.2.2.
 * @param values readings of the master in the unit of the gauge, 2 or more
 * @param reference value of the master in the same unit, null where it is not known
 * @throws RangeError under two values, not finite or too large, or with options out of range
 */
export function repeatability(values: readonly number[], reference: number | null, options: StudyOptions = {}): Repeatability {
  const caller = 'repeatability';
  const { confidence = 0.95, tolerance = null, multiplier = 6 } = options;
  requireConfidence(confidence, caller);
  requireStudyOptions(options, caller);
  if (reference !== null && !Number.isFinite(reference)) throw new RangeError(`${caller}: needs a finite reference or null, ${reference} given`);
  const sd = standardDeviation(values);
  const n = values.length;
  requireInRange([sd], caller);
  // The bias is averaged as such: a mean of large readings less a large reference would lose its digits.
  const bias = reference === null ? null : tested(mean(values.map((value) => value - reference)), sd / Math.sqrt(n), n - 1, confidence);
  const interval = sdInterval(sd, n - 1, confidence);
  const width = tolerance === null ? null : multiplier / tolerance;
  const biasOfTolerance = tolerance === null || bias === null ? null : bias.estimate / tolerance;
  requireInRange([bias?.low ?? 0, bias?.high ?? 0, (width ?? 0) * interval.high, biasOfTolerance ?? 0], caller);
  return {
    n, mean: mean(values), sd, interval, bias,
    ofTolerance: width === null ? null : width * sd,
    ofToleranceInterval: width === null ? null : { low: width * interval.low, high: width * interval.high },
    biasOfTolerance,
  };
}
