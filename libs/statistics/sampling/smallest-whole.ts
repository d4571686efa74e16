/**
 * Smallest whole number from low to high for which a condition holds that, once true, stays true; null where it never is.
 * Doubles its step from low on, then halves: about 2 log2 of the distance, so a near answer is cheap.
 */
export function smallestWhole(holds: (n: number) => boolean, low: number, high: number): number | null {
  if (!(Number.isSafeInteger(low) && Number.isSafeInteger(high))) throw new RangeError(`smallestWhole: needs whole ends, ${low} and ${high} given`);
  if (low > high) return null;
  if (holds(low)) return low;
  let below = low;
  let step = 1;
  let above = Math.min(high, low + step);
  while (!holds(above)) {
    if (above >= high) return null;
    below = above;
    step *= 2;
    above = Math.min(high, above + step);
  }
  while (above - below > 1) {
    const middle = below + Math.floor((above - below) / 2);
    if (holds(middle)) above = middle;
    else below = middle;
  }
  return above;
}
