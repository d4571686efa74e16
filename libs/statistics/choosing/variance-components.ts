import { fUpperTail } from '../distributions/f.js';
import { combinationInterval } from '../gauges/combination-interval.js';
import { type NestedReadings, type Nesting, nestReadings } from './nesting.js';

export type VarianceComponent = {
  /** Name of the level; null is what is left between readings of one innermost group. */
  readonly level: string | null;
  readonly groups: number;
  readonly ss: number;
  readonly df: number;
  readonly ms: number;
  /** Against the next level's mean square; exact when balanced, an approximation otherwise. Null for the innermost and where that does not vary. */
  readonly test: { readonly f: number; readonly p: number } | null;
  /** As the mean squares give it; may be negative. */
  readonly raw: number;
  /** Cut at 0. */
  readonly variance: number;
  /** Of the sum of the cut components, 0 to 1; null when nothing varies. */
  readonly share: number | null;
  /** Two-sided interval of the component, cut at 0; null when the hierarchy is uneven. */
  readonly interval: { readonly low: number; readonly high: number } | null;
};

export type VarianceComponents = { readonly n: number; readonly balanced: boolean; readonly total: number; readonly components: readonly VarianceComponent[] };

/**
 * How much of the variation comes from each level of a hierarchy (unit, piece, position …), all levels random.
 * Mean squares of the nested analysis of variance are set equal to their expectations and solved from the innermost
 * level out; for uneven groups the coefficients are those of Searle, Casella & McCulloch 1992, Variance Components,
 * 3.6 and 5.2 (Henderson's method 1). Variances in the squared unit of the readings.
 * Intervals (balanced only): modified large samples, see combinationInterval.
 * Source: NIST/SEMATECH e-Handbook 3.2.3.3; Montgomery, Design and Analysis of Experiments, "Nested designs".
 * @throws RangeError when a level has fewer than 2 groups, or every group of it stands alone in its branch so that it
 * cannot be told from the level outside or inside it; lists of different lengths; NaN, infinity, or squares beyond the range
 */
export function varianceComponents(readings: NestedReadings, confidence = 0.95): VarianceComponents {
  const caller = 'varianceComponents';
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`${caller}: needs a confidence strictly between 0 and 1, ${confidence} given`);
  const nesting = nestReadings(readings, caller);
  const n = nesting.differences.length;
  const counts = [1, ...nesting.groups.map(({ count }) => count), n];
  nesting.groups.forEach(({ name, count }, level) => {
    if (count - (counts[level] as number) < 1) throw new RangeError(`${caller}: needs at least 2 groups of "${name}" in some branch, every one given stands alone: leave that level out`);
  });
  if (n - (counts[nesting.groups.length] as number) < 1) throw new RangeError(`${caller}: needs at least 2 readings in some group of "${readings.names.at(-1)}", every one given stands alone: leave that level out`);
  const squares = sumsOfSquares(nesting);
  if (!squares.every(Number.isFinite)) throw new RangeError(`${caller}: needs readings whose squares are within the range of numbers, larger ones given`);
  const lines = squares.map((ss, level) => {
    const df = (counts[level + 1] as number) - (counts[level] as number);
    return { ss, df, ms: ss / df };
  });
  const sizes = expectedSizes(nesting);
  const balanced = isBalanced(nesting);

  // From the innermost level out: each mean square holds its own component and all those inside it.
  const raw: number[] = new Array<number>(lines.length).fill(0);
  for (let k = lines.length - 1; k >= 0; k -= 1) {
    let left = (lines[k] as { ms: number }).ms;
    for (let j = k + 1; j < lines.length; j += 1) left -= (raw[j] as number) * ((sizes[k]?.[j] ?? Number.NaN) / (lines[k] as { df: number }).df);
    raw[k] = left / ((sizes[k]?.[k] ?? Number.NaN) / (lines[k] as { df: number }).df);
  }
  const total = raw.reduce((sum, value) => sum + Math.max(0, value), 0);
  const components = lines.map(({ ss, df, ms }, k): VarianceComponent => {
    const inside = lines[k + 1];
    const own = (sizes[k]?.[k] ?? Number.NaN) / df;
    const f = inside === undefined ? Number.NaN : ms / inside.ms;
    const bounds = !balanced ? null : combinationInterval([{ coefficient: 1 / own, ms, df }, ...(inside === undefined ? [] : [{ coefficient: -1 / own, ms: inside.ms, df: inside.df }])], confidence);
    const variance = Math.max(0, raw[k] as number);
    return {
      level: readings.names[k] ?? null, groups: counts[k + 1] as number, ss, df, ms,
      test: inside !== undefined && Number.isFinite(f) ? { f, p: fUpperTail(f, df, inside.df) } : null,
      raw: raw[k] as number, variance, share: total > 0 ? variance / total : null,
      interval: bounds && { low: Math.max(0, bounds.low), high: Math.max(0, bounds.high) },
    };
  });
  return { n, balanced, total, components };
}

/** Sum of n (mean of the group - mean of the group around it)^2 for each level, and of the readings round their innermost group. */
function sumsOfSquares({ differences, groups }: Nesting): number[] {
  const n = differences.length;
  const levels = [{ of: new Int32Array(n), count: 1 }, ...groups];
  const means = levels.map(({ of, count }) => meansOf(differences, of, count));
  return levels.map((level, k) => {
    const outer = means[k] as Float64Array;
    const next = levels[k + 1];
    let sum = 0;
    // Reading by reading: every reading stands for its group, which weighs the group by its size.
    for (let i = 0; i < n; i += 1) {
      const inner = next === undefined ? (differences[i] as number) : (means[k + 1]?.[next.of[i] as number] as number);
      sum += (inner - (outer[level.of[i] as number] as number)) ** 2;
    }
    return sum;
  });
}

function meansOf(differences: Float64Array, of: Int32Array, count: number): Float64Array {
  const sums = new Float64Array(count);
  const sizes = sizesOf(of, count);
  for (let i = 0; i < of.length; i += 1) sums[of[i] as number] = (sums[of[i] as number] as number) + (differences[i] as number);
  return sums.map((sum, group) => sum / (sizes[group] as number));
}

function sizesOf(of: Int32Array, count: number): Float64Array {
  const sizes = new Float64Array(count);
  for (const group of of) sizes[group] = (sizes[group] as number) + 1;
  return sizes;
}

/** sizes[k][j]: how often the component of level j (last = single readings) is in the sum of squares of level k. */
function expectedSizes({ differences, groups }: Nesting): number[][] {
  const n = differences.length;
  const single = { of: Int32Array.from({ length: n }, (_, i) => i), count: n };
  const levels = [{ of: new Int32Array(n), count: 1 }, ...groups, single];
  // Sum over groups g at `outer` of (sum of squared sizes of the groups at `inner` within g) / size of g.
  const spread = (outer: number, inner: number): number => {
    const [around, within] = [levels[outer], levels[inner]] as [typeof single, typeof single];
    const aroundSizes = sizesOf(around.of, around.count);
    const withinSizes = sizesOf(within.of, within.count);
    let sum = 0;
    for (let i = 0; i < n; i += 1) sum += (withinSizes[within.of[i] as number] as number) / (aroundSizes[around.of[i] as number] as number);
    return sum;
  };
  return levels.slice(1).map((_level, k) => levels.slice(1).map((_inner, j) => (j < k ? 0 : (j === k ? n : spread(k + 1, j + 1)) - spread(k, j + 1))));
}

function isBalanced({ differences, groups }: Nesting): boolean {
  const n = differences.length;
  const levels = [...groups, { of: Int32Array.from({ length: n }, (_, i) => i), count: n }];
  return groups.every(({ of, count }) => sizesOf(of, count).every((size) => size === n / count)) && levels.every(({ count }) => Number.isInteger(n / count));
}
