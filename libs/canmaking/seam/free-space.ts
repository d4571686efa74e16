import { requirePositive } from '../require-number.js';
import type { Millimetre } from '../units.js';

/**
 * Free space (seam gap) of a double seam: S − (3·t_e + 2·t_b), for the five layers away from the juncture.
 * A negative result is returned as it is: the plate record and the reading contradict each other.
 *
 * Source: formula from memory; the five layers are stated in the introduction of chapter 22A of the FDA
 * Bacteriological Analytical Manual (published, read in part). The end plate counts three times: 0.005 mm of
 * error in it moves the result by 0.015 mm, so use measured plate when an end lot has changed.
 *
 * @throws RangeError naming the input that is not a finite number above zero.
 */
export function freeSpace(input: { seamThickness: Millimetre; endPlate: Millimetre; bodyPlate: Millimetre }): Millimetre {
  const seamThickness = requirePositive('seamThickness', input.seamThickness);
  const endPlate = requirePositive('endPlate', input.endPlate);
  const bodyPlate = requirePositive('bodyPlate', input.bodyPlate);
  return seamThickness - (3 * endPlate + 2 * bodyPlate);
}
