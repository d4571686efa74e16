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

/**
 * Cans a minute from bodies a minute: a double-high body is parted into two cans, a triple one into three. Arithmetic.
 * @throws RangeError naming the bad input; `cansPerBody` is a whole number.
 */
export function cansPerMinute(bodiesPerMinute: number, cansPerBody: number): number {
  requirePositive('bodiesPerMinute', bodiesPerMinute);
  requirePositive('cansPerBody', cansPerBody);
  if (!Number.isInteger(cansPerBody)) throw new RangeError(`cansPerBody must be a whole number, got ${cansPerBody}`);
  return bodiesPerMinute * cansPerBody;
}
