import { requireFinite } from './require-finite.js';

/**
 * Sample standard deviation with divisor n-1, in the unit of the values.
 * Two passes over differences from the first value, with the rounding left in the first pass taken out again.
 * Source: Chan, Golub & LeVeque 1983, "Algorithms for computing the sample variance", The American Statistician
 * 37(3), the corrected two-pass algorithm. Never from raw sums of squares, which lose every digit of a seam
 * thickness recorded as an offset from a far origin. Equal values give exactly 0.
 * @param caller opens the message of a refusal
 * @throws RangeError under two values, not finite, or so large that their squares are beyond the range of numbers
 */
export function standardDeviation(values: ArrayLike<number>, caller = 'standardDeviation'): number {
  const n = values.length;
  const origin = values[0] as number;
  let sum = 0;
  for (let i = 1; i < n; i += 1) sum += (values[i] as number) - origin;
  const centre = sum / n;

  let squares = 0;
  let rest = 0;
  for (let i = 0; i < n; i += 1) {
    const difference = (values[i] as number) - origin - centre;
    squares += difference * difference;
    rest += difference;
  }
  const result = Math.sqrt(Math.max(0, squares - (rest * rest) / n) / (n - 1));
  if (Number.isFinite(result)) return result;
  // Too few values (0/0), or one that is not finite, leave none that is: they are looked through only to say so.
  requireFinite(values, 2, caller);
  throw new RangeError(`${caller}: needs values whose squared differences stay within the range of numbers, larger ones given`);
}
