/**
 * Distance of two words in inserted, deleted, replaced or exchanged neighbouring letters ("optimal string alignment",
 * Damerau 1964 restricted), or `most` + 1 as soon as it is known to be more than `most`.
 */
export function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let twoAbove: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_none, column) => column);
  for (let row = 1; row <= a.length; row += 1) {
    const here = [row];
    let least = row;
    for (let column = 1; column <= b.length; column += 1) {
      const same = a[row - 1] === b[column - 1];
      let value = Math.min((above[column - 1] as number) + (same ? 0 : 1), (above[column] as number) + 1, (here[column - 1] as number) + 1);
      if (row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1]) value = Math.min(value, (twoAbove[column - 2] as number) + 1);
      here.push(value);
      least = Math.min(least, value);
    }
    // An exchange reaches back two rows, so both must be beyond hope.
    if (least > most && Math.min(...above) > most) return most + 1;
    twoAbove = above;
    above = here;
  }
  return Math.min(above[b.length] as number, most + 1);
}
