import { requireNotNegative, requirePositive } from '../require-number.js';

/**
 * Welding speed in metres per minute: bodies/min × (body length + gap) / 1000, lengths in mm. A double-high body
 * counts once, with the length of both cans. Arithmetic.
 * @throws RangeError naming the bad input.
 */
export function weldingSpeed(input: { bodiesPerMinute: number; bodyLength: number; gap: number }): number {
  const bodiesPerMinute = requirePositive('bodiesPerMinute', input.bodiesPerMinute);
  const bodyLength = requirePositive('bodyLength', input.bodyLength);
  return (bodiesPerMinute * (bodyLength + requireNotNegative('gap', input.gap))) / 1000;
}
