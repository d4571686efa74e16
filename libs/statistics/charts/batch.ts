/**
 * Means and ranges of equal subgroups that lie one behind the other in one array, in one pass.
 * For replays and simulations of millions of readings; what subgroupStatistics gives, without an object a subgroup.
 * @param values readings of subgroup 1, then of subgroup 2, and so on; the unit is kept
 * @param size readings a subgroup, 2 or more
 * @returns means and ranges a subgroup, their averages `grandMean` and `rbar`
 * @throws RangeError when the array is empty or not whole subgroups, or a reading is NaN or infinite (1-based position)
 */
export function subgroupPass(values: Float64Array, size: number): { means: Float64Array; ranges: Float64Array; grandMean: number; rbar: number } {
  if (!Number.isInteger(size) || size < 2) throw new RangeError(`subgroupPass: needs a whole subgroup size of 2 or more, ${size} given`);
  if (values.length === 0 || values.length % size !== 0) {
    throw new RangeError(`subgroupPass: needs whole subgroups of ${size}, ${values.length} readings given`);
  }
  const count = values.length / size;
  const means = new Float64Array(count);
  const ranges = new Float64Array(count);
  const { sumOfMeans, sumOfRanges } = (BY_SIZE[size] ?? anySize)(values, size, means, ranges);
  // A NaN or an infinity among the readings leaves no finite sum, so one look at the end is enough.
  if (!Number.isFinite(sumOfMeans + sumOfRanges)) refuse(values);
  return { means, ranges, grandMean: (values[0] as number) + sumOfMeans / count, rbar: sumOfRanges / count };
}

/** Fills means and ranges; answers the sum of the means less the first reading, and the sum of the ranges. */
type Pass = (values: Float64Array, size: number, means: Float64Array, ranges: Float64Array) => { sumOfMeans: number; sumOfRanges: number };

const anySize: Pass = (values, size, means, ranges) => {
  const origin = values[0] as number;
  let sumOfMeans = 0;
  let sumOfRanges = 0;
  let at = 0;
  for (let i = 0; i < means.length; i += 1) {
    const first = values[at] as number;
    let sum = 0;
    // Positions of the smallest and largest so far, moved by arithmetic: on readings that come in any order a branch
    // here is guessed wrong two or three times a subgroup, which costs more than all the rest.
    let low = at;
    let high = at;
    const end = at + size;
    for (at += 1; at < end; at += 1) {
      const value = values[at] as number;
      sum += value - first;
      low += (at - low) & -(value < (values[low] as number));
      high += (at - high) & -(value > (values[high] as number));
    }
    const mean = first + sum / size;
    const range = (values[high] as number) - (values[low] as number);
    means[i] = mean;
    ranges[i] = range;
    sumOfMeans += mean - origin;
    sumOfRanges += range;
  }
  return { sumOfMeans, sumOfRanges };
};

/** For each outcome of comparing all pairs of a subgroup, one bit a pair, where its largest and its smallest reading are. */
function extremes(size: number): { readonly high: Uint8Array; readonly low: Uint8Array } {
  const pairs = Array.from({ length: size }, (_, p) => Array.from({ length: size - p - 1 }, (_unused, k) => [p, p + 1 + k] as const)).flat();
  const high = new Uint8Array(2 ** pairs.length);
  const low = new Uint8Array(2 ** pairs.length);
  for (let outcome = 0; outcome < high.length; outcome += 1) {
    const larger = new Array<number>(size).fill(0);
    for (const [bit, [p, q]] of pairs.entries()) {
      const winner = (outcome >> bit) % 2 === 1 ? p : q;
      larger[winner] = (larger[winner] as number) + 1;
    }
    high[outcome] = larger.indexOf(Math.max(...larger));
    low[outcome] = larger.indexOf(Math.min(...larger));
  }
  return { high, low };
}

const THREE = extremes(3);
const FOUR = extremes(4);
const FIVE = extremes(5);

/** The sizes that checks usually have, written out: no inner loop, and no comparison that waits for another. */
const BY_SIZE: Readonly<Record<number, Pass>> = {
  2: (values, _size, means, ranges) => {
    const origin = values[0] as number;
    let sumOfMeans = 0;
    let sumOfRanges = 0;
    for (let i = 0, at = 0; i < means.length; i += 1, at += 2) {
      const a = values[at] as number;
      const b = values[at + 1] as number;
      const mean = a + (b - a) / 2;
      const range = Math.abs(b - a);
      means[i] = mean;
      ranges[i] = range;
      sumOfMeans += mean - origin;
      sumOfRanges += range;
    }
    return { sumOfMeans, sumOfRanges };
  },
  3: (values, _size, means, ranges) => {
    const { high, low } = THREE;
    const origin = values[0] as number;
    let sumOfMeans = 0;
    let sumOfRanges = 0;
    for (let i = 0, at = 0; i < means.length; i += 1, at += 3) {
      const a = values[at] as number;
      const b = values[at + 1] as number;
      const c = values[at + 2] as number;
      const outcome = +(a > b) | (+(a > c) << 1) | (+(b > c) << 2);
      const mean = a + (b - a + (c - a)) / 3;
      const range = (values[at + (high[outcome] as number)] as number) - (values[at + (low[outcome] as number)] as number);
      means[i] = mean;
      ranges[i] = range;
      sumOfMeans += mean - origin;
      sumOfRanges += range;
    }
    return { sumOfMeans, sumOfRanges };
  },
  4: (values, _size, means, ranges) => {
    const { high, low } = FOUR;
    const origin = values[0] as number;
    let sumOfMeans = 0;
    let sumOfRanges = 0;
    for (let i = 0, at = 0; i < means.length; i += 1, at += 4) {
      const a = values[at] as number;
      const b = values[at + 1] as number;
      const c = values[at + 2] as number;
      const d = values[at + 3] as number;
      const outcome = +(a > b) | (+(a > c) << 1) | (+(a > d) << 2) | (+(b > c) << 3) | (+(b > d) << 4) | (+(c > d) << 5);
      const mean = a + (b - a + (c - a) + (d - a)) / 4;
      const range = (values[at + (high[outcome] as number)] as number) - (values[at + (low[outcome] as number)] as number);
      means[i] = mean;
      ranges[i] = range;
      sumOfMeans += mean - origin;
      sumOfRanges += range;
    }
    return { sumOfMeans, sumOfRanges };
  },
  5: (values, _size, means, ranges) => {
    const { high, low } = FIVE;
    const origin = values[0] as number;
    let sumOfMeans = 0;
    let sumOfRanges = 0;
    for (let i = 0, at = 0; i < means.length; i += 1, at += 5) {
      const a = values[at] as number;
      const b = values[at + 1] as number;
      const c = values[at + 2] as number;
      const d = values[at + 3] as number;
      const e = values[at + 4] as number;
      const outcome = +(a > b) | (+(a > c) << 1) | (+(a > d) << 2) | (+(a > e) << 3) | (+(b > c) << 4) | (+(b > d) << 5) | (+(b > e) << 6) | (+(c > d) << 7) | (+(c > e) << 8) | (+(d > e) << 9);
      const mean = a + (b - a + (c - a) + (d - a) + (e - a)) / 5;
      const range = (values[at + (high[outcome] as number)] as number) - (values[at + (low[outcome] as number)] as number);
      means[i] = mean;
      ranges[i] = range;
      sumOfMeans += mean - origin;
      sumOfRanges += range;
    }
    return { sumOfMeans, sumOfRanges };
  },
};

function refuse(values: Float64Array): never {
  const index = values.findIndex((value) => !Number.isFinite(value));
  if (index < 0) throw new RangeError('subgroupPass: needs readings whose sums are within the range of numbers, larger ones given');
  throw new RangeError(`subgroupPass: reading ${index + 1} of ${values.length} is ${String(values[index])}, a finite number is expected`);
}
