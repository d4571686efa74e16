import { requirePositive } from '../require-number.js';
import type { Millimetre, Percent } from '../units.js';
import { overlap, type OverlapInput } from './overlap.js';

/**
 * Overlap as a share of the space inside the seam: 100·OL / (W − k(2·t_e + t_b)).
 *
 * Source: the k = 1.0 form stands in a public code file of low authority and, from memory, in chapter 22A of the
 * FDA Bacteriological Analytical Manual; k = 1.1 is from memory. The same can reads about two points higher with
 * k = 1.1, so k belongs to the result.
 *
 * @throws RangeError naming the bad input, or `seamLength` when the plates alone fill the seam.
 */
export function percentOverlap(input: OverlapInput & { bodyPlate: Millimetre }, k: number): Percent {
  requirePositive('bodyPlate', input.bodyPlate);
  const length = overlap(input, k);
  const inner = input.seamLength - k * (2 * input.endPlate + input.bodyPlate);
  if (!(inner > 0)) {
    throw new RangeError(`seamLength must exceed the plates inside the seam, k(2·endPlate + bodyPlate), got ${input.seamLength}`);
  }
  return (100 * length) / inner;
}
