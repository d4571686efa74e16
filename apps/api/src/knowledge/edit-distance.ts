/**
 * Edit distance (insert, delete, replace) of two words, or `most` + 1 as soon as it is known to be more than `most`.
 * Rows of the classic table (Wagner & Fischer 1974, "The string-to-string correction problem").
 */
export function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let above = Array.from({ length: b.length + 1 }, (_none, column) => column);
  for (let row = 1; row <= a.length; row += 1) {
    const here = [row];
    let least = row;
    for (let column = 1; column <= b.length; column += 1) {
      const replaced = (above[column - 1] as number) + (a[row - 1] === b[column - 1] ? 0 : 1);
      const value = Math.min(replaced, (above[column] as number) + 1, (here[column - 1] as number) + 1);
      here.push(value);
      least = Math.min(least, value);
    }
    if (least > most) return most + 1;
    above = here;
  }
  return Math.min(above[b.length] as number, most + 1);
}
