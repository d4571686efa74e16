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
  const origin = values[0] as number;
  let sumOfMeans = 0;
  let sumOfRanges = 0;
  let at = 0;
  for (let i = 0; i < count; i += 1) {
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
  // A NaN or an infinity among the readings leaves no finite sum, so one look at the end is enough.
  if (!Number.isFinite(sumOfMeans + sumOfRanges)) refuse(values);
  return { means, ranges, grandMean: origin + sumOfMeans / count, rbar: sumOfRanges / count };
}

function refuse(values: Float64Array): never {
  const index = values.findIndex((value) => !Number.isFinite(value));
  if (index < 0) throw new RangeError('subgroupPass: the readings are too large to be summed');
  throw new RangeError(`subgroupPass: reading ${index + 1} of ${values.length} is ${String(values[index])}, a finite number is expected`);
}
