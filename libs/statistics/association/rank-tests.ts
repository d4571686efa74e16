import { chiSquareUpperTail } from '../distributions/gamma.js';
import { normalUpperTail } from '../distributions/normal.js';
import { midRanks, momentsOf } from './samples.js';

export type RankSum = {
  /** Pairs in which the value of b is the larger, equal ones half (Mann-Whitney). */
  readonly u: number;
  /** Two-sided. */
  readonly p: number;
  /** Whether p is from all divisions; otherwise normal, with the correction for ties and continuity. */
  readonly exact: boolean;
  /** Chance that a value of b exceeds one of a, less the chance of the opposite: -1 to 1 (Cliff 1993). */
  readonly delta: number;
};

const MOST_EXACT = 50;

/**
 * Whether values of one sample tend to be larger, by ranks: Mann & Whitney 1947, Annals of Mathematical Statistics 18;
 * Wilcoxon 1945. Exact without ties and with both samples below 50 values; else normal with continuity correction, as in
 * Hollander & Wolfe, Nonparametric Statistical Methods, 4.1. Effect: Cliff 1993, Psychological Bulletin 114.
 * @throws RangeError under 2 values a sample, NaN or infinity, or when all values are alike
 */
export function rankSumTest(a: readonly number[], b: readonly number[]): RankSum {
  const caller = 'rankSumTest';
  momentsOf(a, caller, 'the first sample');
  momentsOf(b, caller, 'the second sample');
  const { ranks, ties } = midRanks([...a, ...b]);
  const [m, n] = [a.length, b.length];
  const u = ranks.subarray(m).reduce((sum, rank) => sum + rank, 0) - (n * (n + 1)) / 2;
  const delta = (2 * u) / (m * n) - 1;
  if (ties === 0 && m < MOST_EXACT && n < MOST_EXACT) return { u, p: exactRankSum(u, m, n), exact: true, delta };
  const all = m + n;
  const variance = ((m * n) / 12) * (all + 1 - ties / (all * (all - 1)));
  if (!(variance > 0)) throw new RangeError(`${caller}: needs values that differ, all given are alike`);
  const z = (Math.abs(u - (m * n) / 2) - 0.5) / Math.sqrt(variance);
  return { u, p: Math.min(1, 2 * normalUpperTail(Math.max(0, z))), exact: false, delta };
}

/** Share of all divisions with a U at least as far out: counted by the recursion on the largest value (Mann & Whitney 1947). */
function exactRankSum(u: number, m: number, n: number): number {
  // counts[k] = divisions of i + j values with U = k, built up one value of the first sample at a time (as a product of polynomials).
  let counts = new Float64Array(m * n + 1);
  counts[0] = 1;
  for (let i = 1; i <= m; i += 1) {
    const next = Float64Array.from(counts);
    // Gaussian binomial: times (1 - q^(n+i)) over (1 - q^i).
    for (let k = m * n; k >= n + i; k -= 1) next[k] = (next[k] as number) - (next[k - n - i] as number);
    for (let k = i; k <= m * n; k += 1) next[k] = (next[k] as number) + (next[k - i] as number);
    counts = next;
  }
  const total = counts.reduce((sum, count) => sum + count, 0);
  const low = Math.min(u, m * n - u);
  let tail = 0;
  for (let k = 0; k <= low; k += 1) tail += counts[k] as number;
  return Math.min(1, (2 * tail) / total);
}

export type KruskalWallis = { readonly h: number; readonly df: number; readonly p: number; /** Share of the variation of ranks between samples, 0 to 1. */ readonly epsilonSquared: number };

/**
 * Whether several samples differ in location, by ranks, corrected for ties; p from chi-square.
 * Source: Kruskal & Wallis 1952, JASA 47; effect H / (N - 1): Kelley 1935, as in Tomczak & Tomczak 2014.
 * @throws RangeError under 2 samples or 2 values in one, NaN or infinity, or when all values are alike
 */
export function kruskalWallis(samples: readonly (readonly number[])[]): KruskalWallis {
  const caller = 'kruskalWallis';
  if (samples.length < 2) throw new RangeError(`${caller}: needs at least 2 samples, ${samples.length} given`);
  samples.forEach((sample, i) => {
    momentsOf(sample, caller, `sample ${i + 1}`);
  });
  const { ranks, ties } = midRanks(samples.flat());
  const all = ranks.length;
  const correction = 1 - ties / (all ** 3 - all);
  if (!(correction > 0)) throw new RangeError(`${caller}: needs values that differ, all given are alike`);
  let at = 0;
  const spread = samples.reduce((sum, { length }) => {
    const rank = ranks.subarray(at, at + length).reduce((total, value) => total + value, 0) / length;
    at += length;
    return sum + length * (rank - (all + 1) / 2) ** 2;
  }, 0);
  const h = ((12 / (all * (all + 1))) * spread) / correction;
  const df = samples.length - 1;
  return { h, df, p: chiSquareUpperTail(h, df), epsilonSquared: Math.min(1, h / (all - 1)) };
}
