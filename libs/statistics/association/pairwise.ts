import { adjustForMany, type FalseDiscovery } from './false-discovery.js';
import { rankSumTest } from './rank-tests.js';
import { welchTest } from './welch.js';

export type Pair = {
  /** Positions of the two samples, from 0. */
  readonly first: number;
  readonly second: number;
  /** Mean of the second less mean of the first, with its two-sided interval for this pair alone. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  /** Chance that the second exceeds the first less the chance of the opposite (Cliff 1993), -1 to 1. */
  readonly delta: number;
  readonly p: number;
  /** For the number of pairs. */
  readonly adjusted: number;
};

const MOST_SAMPLES = 100;

/**
 * Every pair of samples by Welch's test, with ps adjusted for the number of pairs.
 * Pairs share their samples: Benjamini & Yekutieli 2001 holds whatever that dependence is.
 * @throws RangeError under 2 or above 100 samples; as welchTest, when neither sample of a pair varies
 */
export function everyPair(samples: readonly (readonly number[])[], options: { readonly confidence?: number; readonly adjust?: FalseDiscovery } = {}): Pair[] {
  const { confidence = 0.95, adjust = 'benjamini-yekutieli' } = options;
  if (!(samples.length >= 2 && samples.length <= MOST_SAMPLES)) throw new RangeError(`everyPair: needs 2 to ${MOST_SAMPLES} samples, ${samples.length} given`);
  const pairs = samples.flatMap((a, first) => samples.slice(first + 1).map((b, further) => {
    const { difference, low, high, p } = welchTest(a, b, { confidence });
    return { first, second: first + 1 + further, difference, low, high, delta: rankSumTest(a, b).delta, p };
  }));
  const adjusted = adjustForMany(pairs.map(({ p }) => p), adjust);
  return pairs.map((pair, i) => ({ ...pair, adjusted: adjusted[i] as number }));
}
