import { requireFinite } from './require-finite.js';

/**
 * Arithmetic mean, in the unit of the values.
 * Summed as differences from the first value: readings of a can are large numbers that differ little, and the
 * differences keep their digits where the raw sum loses them. Equal values give exactly that value.
 * @throws RangeError when empty or not finite
 */
export function mean(values: ArrayLike<number>): number {
  const origin = values[0] as number;
  let sum = 0;
  for (let i = 1; i < values.length; i += 1) sum += (values[i] as number) - origin;
  const result = origin + sum / values.length;
  if (Number.isFinite(result)) return result;
  // No value that is not finite leaves a finite mean, so they are looked through only to name it.
  requireFinite(values, 1, 'mean');
  // What is left are differences beyond the range of numbers; the mean itself is within it.
  let parts = 0;
  for (let i = 0; i < values.length; i += 1) parts += (values[i] as number) / values.length;
  return parts;
}
