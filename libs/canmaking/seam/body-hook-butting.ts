import { requirePositive } from '../require-number.js';
import type { Millimetre, Percent } from '../units.js';

/** The allowance is part of this formula as it is handed down; it does not follow the plant's k of the overlap. */
export const buttingAllowance = 1.1;

/**
 * Calculated body-hook butting: 100·(BH − 1.1·t_b) / (W − 1.1(2·t_e + t_b)).
 *
 * Source: from memory. The optical form, butted length over body-hook length, gives another number
 * and is another characteristic.
 *
 * @throws RangeError naming the bad input, or `seamLength` when the plates alone fill the seam.
 */
export function bodyHookButting(input: {
  bodyHook: Millimetre; seamLength: Millimetre; endPlate: Millimetre; bodyPlate: Millimetre;
}): Percent {
  const bodyHook = requirePositive('bodyHook', input.bodyHook);
  const seamLength = requirePositive('seamLength', input.seamLength);
  const endPlate = requirePositive('endPlate', input.endPlate);
  const bodyPlate = requirePositive('bodyPlate', input.bodyPlate);
  const inner = seamLength - buttingAllowance * (2 * endPlate + bodyPlate);
  if (!(inner > 0)) {
    throw new RangeError(`seamLength must exceed the plates inside the seam, 1.1(2·endPlate + bodyPlate), got ${seamLength}`);
  }
  return (100 * (bodyHook - buttingAllowance * bodyPlate)) / inner;
}
