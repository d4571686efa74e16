/** The values in rising order, in an array of their own. A plain loop: copying through an iterator costs more than the sort. */
export function sortedCopy(values: ArrayLike<number>): Float64Array {
  const copy = new Float64Array(values.length);
  for (let i = 0; i < values.length; i += 1) copy[i] = values[i] as number;
  return copy.sort();
}
