/** The values in rising order, in an array of their own. A plain loop: copying through an iterator costs more than the sort. @throws RangeError when one is not finite */
export function sortedCopy(values: ArrayLike<number>): Float64Array {
  const copy = new Float64Array(values.length);
  for (let i = 0; i < values.length; i += 1) copy[i] = values[i] as number;
  copy.sort();
  // What is not finite has been sorted to the ends.
  for (const end of [copy[0] ?? 0, copy[copy.length - 1] ?? 0]) if (!Number.isFinite(end)) throw new RangeError(`sortedCopy: needs finite values, ${end} given`);
  return copy;
}
