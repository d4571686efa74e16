import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';

export type Moments = { readonly n: number; readonly mean: number; readonly variance: number };

/** n, mean and variance (divisor n-1) of one sample. @throws RangeError in the caller's name under 2 values or not finite */
export function momentsOf(values: readonly number[], caller: string, which: string): Moments {
  if (values.length < 2) throw new RangeError(`${caller}: needs at least 2 values in ${which}, ${values.length} given`);
  values.forEach((value, i) => {
    if (!Number.isFinite(value) || Math.abs(value) > 1e150) throw new RangeError(`${caller}: needs finite values whose squares are within the range of numbers in ${which}, ${String(value)} given at ${i + 1}`);
  });
  const sd = standardDeviation(values);
  return { n: values.length, mean: mean(values), variance: sd * sd };
}

export type Ranks = {
  /** Mid-ranks from 1, in the order given. */
  readonly ranks: Float64Array;
  /** Sum of t^3 - t over the groups of t equal values. */
  readonly ties: number;
};

/** Mid-ranks of all values together: equal values share the mean of the ranks they take. */
export function midRanks(values: readonly number[]): Ranks {
  const order = Array.from(values.keys()).sort((a, b) => (values[a] as number) - (values[b] as number));
  const ranks = new Float64Array(values.length);
  let ties = 0;
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && values[order[to] as number] === values[order[from] as number]) to += 1;
    for (let i = from; i < to; i += 1) ranks[order[i] as number] = (from + to + 1) / 2;
    ties += (to - from) ** 3 - (to - from);
    from = to;
  }
  return { ranks, ties };
}
