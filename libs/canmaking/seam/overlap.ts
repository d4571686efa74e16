import { requirePositive } from '../require-number.js';
import type { Millimetre } from '../units.js';

export type OverlapInput = {
  coverHook: Millimetre;
  bodyHook: Millimetre;
  /** Thickness of the end (cover) plate. */
  endPlate: Millimetre;
  /** Seam length, also called width or height: measured along the can axis. */
  seamLength: Millimetre;
};

/**
 * Calculated overlap length of cover hook and body hook: CH + BH + k·t_e − W, in the unit of the inputs.
 * A negative result is returned as it is: the hooks do not reach each other.
 *
 * Source: 21 CFR 113.60(a)(1)(iii), 2015 edition, prints CH + BH + T − W, that is k = 1.0 (published, read in full).
 * The allowance factor k = 1.1 for metal and coating is a European habit (from memory).
 * Results with different k, and optical readings, must not share a chart: keep k and method with each result.
 *
 * @throws RangeError naming the input that is not a finite number above zero.
 */
export function overlap({ coverHook, bodyHook, endPlate, seamLength }: OverlapInput, k: number): Millimetre {
  requirePositive('coverHook', coverHook);
  requirePositive('bodyHook', bodyHook);
  requirePositive('endPlate', endPlate);
  requirePositive('seamLength', seamLength);
  requirePositive('k', k);
  return coverHook + bodyHook + k * endPlate - seamLength;
}
