import { requireFinite } from './require-finite.js';

/**
 * Largest less smallest, in the unit of the values; 0 for a single value.
 * Whether a single reading may be charted as a range is for the caller to say: it may not.
 * @throws RangeError when empty, not finite, or the difference is beyond the range of numbers
 */
export function range(values: ArrayLike<number>): number {
  requireFinite(values, 1, 'range');
  let low = values[0] as number;
  let high = low;
  for (let i = 1; i < values.length; i += 1) {
    const value = values[i] as number;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (!Number.isFinite(high - low)) throw new RangeError(`range: needs values whose difference is within the range of numbers, ${low} and ${high} given`);
  return high - low;
}
