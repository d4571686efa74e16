import { mean } from '../numeric/mean.js';
import { randomNumbers } from '../numeric/random-numbers.js';
import { momentsOf } from './samples.js';

export type Permutation = {
  /** Mean of b less mean of a. */
  readonly difference: number;
  /** Two-sided: share of divisions of all values whose means differ at least as much. */
  readonly p: number;
  /** Divisions looked at; all there are when exact. */
  readonly divisions: number;
  readonly exact: boolean;
  /** Of p, from the number of random divisions; 0 when exact. */
  readonly standardError: number;
};

const MOST_EXACT = 50_000;

/**
 * Permutation test of two means: no distribution assumed, only that the labels could be exchanged.
 * All divisions where there are at most 50,000; else random ones, p = (as extreme + 1) / (drawn + 1).
 * Source: Fisher 1935, The Design of Experiments; Pitman 1937; Phipson & Smyth 2010, "Permutation p-values should never
 * be zero", Statistical Applications in Genetics and Molecular Biology 9(1).
 * @param options draws (default 9,999) and seed: the same seed gives the same answer; progress is told the share done
 * @throws RangeError under 2 values a sample, NaN, infinity or squares beyond the range, draws not whole from 99 to 10,000,000, or seed not whole
 */
export function permutationTest(a: readonly number[], b: readonly number[], options: { readonly draws?: number; readonly seed?: number; readonly progress?: (share: number) => void } = {}): Permutation {
  const caller = 'permutationTest';
  const { draws = 9_999, seed = 1, progress } = options;
  if (!(Number.isInteger(draws) && draws >= 99 && draws <= 10_000_000)) throw new RangeError(`${caller}: needs a whole number of draws from 99 to 10,000,000, ${draws} given`);
  if (!(Number.isInteger(seed) && Math.abs(seed) <= 2 ** 31)) throw new RangeError(`${caller}: needs a whole seed, ${seed} given`);
  const difference = momentsOf(b, caller, 'the second sample').mean - momentsOf(a, caller, 'the first sample').mean;
  const origin = mean([...a, ...b]);
  const pool = Float64Array.from([...a, ...b], (value) => value - origin);
  const small = Math.min(a.length, b.length);
  const sum = (a.length <= b.length ? a : b).reduce((total, value) => total + (value - origin), 0);
  // With the pool centred the sum of one sample says all: the other's is its negative. Equal up to rounding counts as extreme.
  const least = Math.abs(sum) - 1e-9 * pool.reduce((total, value) => total + Math.abs(value), 0) / pool.length;
  const total = combinations(pool.length, small);
  if (total <= MOST_EXACT) {
    const extreme = countExtreme(pool, small, least);
    return { difference, p: extreme / total, divisions: total, exact: true, standardError: 0 };
  }
  let extreme = 0;
  const random = randomNumbers(seed);
  for (let draw = 0; draw < draws; draw += 1) {
    // The first places of a shuffle are a random sample; the pool may stay shuffled.
    let drawn = 0;
    for (let i = 0; i < small; i += 1) {
      const j = i + Math.floor(random() * (pool.length - i));
      const value = pool[j] as number;
      pool[j] = pool[i] as number;
      pool[i] = value;
      drawn += value;
    }
    if (Math.abs(drawn) >= least) extreme += 1;
    if (draw % 256 === 0) progress?.(draw / draws);
  }
  const p = (extreme + 1) / (draws + 1);
  return { difference, p, divisions: draws, exact: false, standardError: Math.sqrt((p * (1 - p)) / draws) };
}

/** n over k, infinite beyond 1e15: it only has to be compared. */
function combinations(n: number, k: number): number {
  let count = 1;
  for (let i = 1; i <= k; i += 1) {
    count = (count * (n - k + i)) / i;
    if (count > 1e15) return Number.POSITIVE_INFINITY;
  }
  return Math.round(count);
}

/** Every choice of k places, in lexical order. */
function countExtreme(pool: Float64Array, k: number, least: number): number {
  const chosen = Array.from({ length: k }, (_, i) => i);
  let extreme = 0;
  for (;;) {
    if (Math.abs(chosen.reduce((total, place) => total + (pool[place] as number), 0)) >= least) extreme += 1;
    let last = k - 1;
    while (last >= 0 && chosen[last] === pool.length - k + last) last -= 1;
    if (last < 0) return extreme;
    chosen[last] = (chosen[last] as number) + 1;
    for (let i = last + 1; i < k; i += 1) chosen[i] = (chosen[i - 1] as number) + 1;
  }
}
