import { requirePositive } from '../require-number.js';
import type { Millimetre } from '../units.js';

/**
 * Weld thickness over plate thickness. Ranges seen: 1.3 to 1.4 (chapter 22A of the FDA Bacteriological Analytical
 * Manual, second-hand) and about 1.4 (a welding institute's public answer on mash welding). No limit is implied.
 * @throws RangeError naming the bad input.
 */
export function weldRatio(input: { weldThickness: Millimetre; bodyPlate: Millimetre }): number {
  return requirePositive('weldThickness', input.weldThickness) / requirePositive('bodyPlate', input.bodyPlate);
}
