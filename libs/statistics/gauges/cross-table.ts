/**
 * Counts of pairs of ratings: row = category by the first, column = by the second, in the order of `categories`.
 * @throws RangeError when the lists differ in length, are empty, or a rating is not among the categories (1-based position is named)
 */
export function crossTable<Rating extends string | number>(first: readonly Rating[], second: readonly Rating[], categories: readonly Rating[]): number[][] {
  if (first.length === 0 || first.length !== second.length) throw new RangeError(`crossTable: needs two lists of ratings of the same length, ${first.length} and ${second.length} given`);
  const place = new Map(categories.map((category, index) => [category, index]));
  if (place.size !== categories.length) throw new RangeError(`crossTable: needs categories that differ, ${categories.length} given, ${place.size} different`);
  const table = categories.map(() => categories.map(() => 0));
  first.forEach((rating, i) => {
    const [row, column] = [place.get(rating), place.get(second[i] as Rating)];
    if (row === undefined || column === undefined) throw new RangeError(`crossTable: needs ratings among the ${categories.length} categories, pair ${i + 1} is ${rating}, ${String(second[i])}`);
    const cells = table[row] as number[];
    cells[column] = (cells[column] as number) + 1;
  });
  return table;
}
