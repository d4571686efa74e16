import { requireNotNegative, requirePositive } from '../require-number.js';
import type { Millimetre, Percent } from '../units.js';

/**
 * Juncture rating: cover hook where it crosses the side seam as a share of the cover hook beside it. High is good.
 * Source: from memory.
 * @throws RangeError naming the bad input.
 */
export function junctureRating(input: { coverHookAtJuncture: Millimetre; coverHookBeside: Millimetre }): Percent {
  const beside = requirePositive('coverHookBeside', input.coverHookBeside);
  const at = requireNotNegative('coverHookAtJuncture', input.coverHookAtJuncture);
  return (100 * at) / beside;
}

/**
 * Expected seam thickness where the weld passes through the seam: S + 2(r − 1)·t_b, r being weld thickness over plate.
 * Geometry of two thickened body layers; published layer counts (6.3 to 6.4) disagree with it, so treat the
 * result as a guide and never as a limit.
 * @throws RangeError naming the bad input; a weld thinner than its plate (r below 1) is refused.
 */
export function junctureThickness(input: { seamThickness: Millimetre; bodyPlate: Millimetre; weldRatio: number }): Millimetre {
  const seamThickness = requirePositive('seamThickness', input.seamThickness);
  const bodyPlate = requirePositive('bodyPlate', input.bodyPlate);
  const weldRatio = requirePositive('weldRatio', input.weldRatio);
  if (weldRatio < 1) throw new RangeError(`weldRatio must be 1 or more, got ${weldRatio}`);
  return seamThickness + 2 * (weldRatio - 1) * bodyPlate;
}

/**
 * Share of the can's circumference on which the rules take no seam point because the weld is near.
 * Source of the 12.7 mm (half an inch) each side: 9 CFR 318.301(b)(2)(i), 2015 edition (published, read in full).
 * @param insideDiameter of the body, mm
 * @param keepAway distance from the weld on each side, mm along the circumference
 * @returns degrees each side of the weld, and percent of the circumference
 */
export function unmeasuredArc(insideDiameter: Millimetre, keepAway: Millimetre = 12.7): { degreesEachSide: number; percent: Percent } {
  requirePositive('insideDiameter', insideDiameter);
  requireNotNegative('keepAway', keepAway);
  const share = (2 * keepAway) / (Math.PI * insideDiameter);
  if (share > 1) throw new RangeError(`keepAway must fit on the circumference, got ${keepAway}`);
  return { degreesEachSide: share * 180, percent: 100 * share };
}
