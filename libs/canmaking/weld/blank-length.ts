import { requireFinite, requirePositive } from '../require-number.js';
import type { Millimetre } from '../units.js';

/**
 * Length of the body blank in rolling direction: π(D_i + t_b) + overlap, neutral axis at half thickness.
 * Geometry. With a fixed calibration tool a blank longer by x shows as x more overlap, one to one.
 * @throws RangeError naming the bad input.
 */
export function blankLength(input: { insideDiameter: Millimetre; bodyPlate: Millimetre; weldOverlap: Millimetre }): Millimetre {
  const insideDiameter = requirePositive('insideDiameter', input.insideDiameter);
  const bodyPlate = requirePositive('bodyPlate', input.bodyPlate);
  return Math.PI * (insideDiameter + bodyPlate) + requireFinite('weldOverlap', input.weldOverlap);
}
