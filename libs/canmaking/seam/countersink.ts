import { requirePositive } from '../require-number.js';
import type { Millimetre } from '../units.js';

/**
 * Chuck-lip allowance: countersink depth less seam length, C − W. An over-deep countersink shortens cover hook and
 * overlap (open technical page on dimensional seam defects, read in part).
 * @throws RangeError naming the input that is not a finite number above zero.
 */
export function chuckLipAllowance(input: { countersink: Millimetre; seamLength: Millimetre }): Millimetre {
  return requirePositive('countersink', input.countersink) - requirePositive('seamLength', input.seamLength);
}
