import { noncentralTCdf } from '../distributions/noncentral-t.js';
import { findRoot } from '../numeric/find-root.js';
import type { Interval } from './intervals.js';

/*
 * One side only, exactly: with C = (USL-mean)/(3 s) and nu = n-1, 3 sqrt(n) C is noncentral t with noncentrality
 * 3 sqrt(n) times the true index. Source: Owen 1968, "A survey of properties and applications of the noncentral
 * t-distribution", Technometrics 10(3); Chou, Owen & Borrego 1990, "Lower confidence limits on process capability indices",
 * Journal of Quality Technology 22(3). Not for Cpk from sigma within, whose degrees of freedom do not belong to n.
 */

/**
 * Exact two-sided interval of the index of one side (Ppu, Ppl), sd of all n readings, normal and independent.
 * @param index as estimated, from -100 to 100
 * @param n readings, 2 to 1e6
 * @throws RangeError outside these, or a confidence not strictly between 0 and 1
 */
export function oneSidedIndexInterval(index: number, n: number, confidence = 0.95): Interval {
  requireArguments(index, n, confidence, 'oneSidedIndexInterval');
  const alpha = 1 - confidence;
  return { low: boundAt(index, n, 1 - alpha / 2), high: boundAt(index, n, alpha / 2) };
}

/** Exact one-sided lower bound of the index of one side. @throws RangeError as oneSidedIndexInterval */
export function oneSidedIndexLowerBound(index: number, n: number, confidence = 0.95): number {
  requireArguments(index, n, confidence, 'oneSidedIndexLowerBound');
  return boundAt(index, n, confidence);
}

/** The true index under which an estimate up to this one has the probability given; falls as the true index rises. */
function boundAt(index: number, n: number, probability: number): number {
  const root = 3 * Math.sqrt(n);
  const t = root * index;
  const distance = (delta: number): number => noncentralTCdf(t, n - 1, delta) - probability;
  let step = 2 + (3 * Math.abs(t)) / Math.sqrt(n);
  let low = t - step;
  let high = t + step;
  for (let turn = 0; turn < 40 && distance(low) < 0; turn += 1, step *= 2) low -= step;
  for (let turn = 0; turn < 40 && distance(high) > 0; turn += 1, step *= 2) high += step;
  return findRoot(distance, low, high, { tolerance: 1e-11 * (1 + Math.abs(t)) }) / root;
}

function requireArguments(index: number, n: number, confidence: number, caller: string): void {
  if (!(Math.abs(index) <= 100)) throw new RangeError(`${caller}: needs an index from -100 to 100, ${index} given`);
  if (!(Number.isInteger(n) && n >= 2 && n <= 1e6)) throw new RangeError(`${caller}: needs a whole number of readings from 2 to 1000000, ${n} given`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`${caller}: needs a confidence strictly between 0 and 1, ${confidence} given`);
}
