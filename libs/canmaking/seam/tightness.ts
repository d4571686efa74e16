import { requireNotNegative, requirePositive } from '../require-number.js';
import type { Millimetre, Percent } from '../units.js';

/**
 * Tightness rating: the share of the cover hook free of the worst wrinkle, 100·(CH − wrinkle)/CH. High is good.
 *
 * Source: from memory. The older wrinkle number runs the other way (0 is good), see `tightnessFromWrinkleNumber`:
 * always name the scale.
 *
 * @throws RangeError naming the bad input; a wrinkle longer than the hook is refused.
 */
export function tightness(input: { coverHook: Millimetre; wrinkleLength: Millimetre }): Percent {
  const coverHook = requirePositive('coverHook', input.coverHook);
  const wrinkleLength = requireNotNegative('wrinkleLength', input.wrinkleLength);
  if (wrinkleLength > coverHook) {
    throw new RangeError(`wrinkleLength must not exceed coverHook ${coverHook}, got ${wrinkleLength}`);
  }
  return (100 * (coverHook - wrinkleLength)) / coverHook;
}

/**
 * Tightness in percent from the older wrinkle number, depth in tenths of the hook, 0 (none) to 10: 100 − 10·r.
 * Source: from memory.
 */
export function tightnessFromWrinkleNumber(wrinkleNumber: number): Percent {
  requireNotNegative('wrinkleNumber', wrinkleNumber);
  if (wrinkleNumber > 10) throw new RangeError(`wrinkleNumber must be 0 to 10, got ${wrinkleNumber}`);
  return 100 - 10 * wrinkleNumber;
}
