import { requireFinite } from '../require-number.js';
import type { Millimetre } from '../units.js';
import { unmeasuredArc } from './juncture.js';

/** A reading of one point; `degrees` round the can from the weld, null where the place was not written down. */
export type SeamPoint = { degrees: number | null; value: number | null };

export type Placed = { value: number; index: number; degrees: number | null };
export type Spread = {
  low: Placed; high: Placed; mean: number;
  /** High less low. */
  range: number;
  points: number;
  /** Points that are missing, by index. */
  missing: readonly number[];
  /** Points on the arc beside the weld: a record of the juncture, in none of the numbers above. */
  atJuncture: readonly Placed[];
};

/**
 * What the points of one can say, with the lowest and the highest kept in sight: the mean alone hides the place where a
 * seam is bad. Points nearer to the weld than `keepAway` stay apart, they are of the juncture and never averaged in.
 * 9 CFR 318.301(b)(2)(i), 2015 edition, asks for maximum and minimum of each dimension.
 * @param insideDiameter of the body; null: the arc is not known, no point is set apart
 * @returns null when no point away from the weld was read
 * @throws RangeError naming the bad input.
 */
export function spreadRoundTheCan(points: readonly SeamPoint[], insideDiameter: Millimetre | null, keepAway: Millimetre = 12.7): Spread | null {
  const arc = insideDiameter === null ? 0 : unmeasuredArc(insideDiameter, keepAway).degreesEachSide;
  const missing: number[] = [];
  const atJuncture: Placed[] = [];
  const measured: Placed[] = [];
  points.forEach(({ degrees, value }, index) => {
    if (value === null) { missing.push(index); return; }
    const point = { value: requireFinite('value', value), index, degrees };
    (degrees !== null && fromWeld(degrees) < arc ? atJuncture : measured).push(point);
  });
  const [first] = measured;
  if (first === undefined) return null;
  const low = measured.reduce((least, point) => (point.value < least.value ? point : least), first);
  const high = measured.reduce((most, point) => (point.value > most.value ? point : most), first);
  const mean = measured.reduce((sum, { value }) => sum + value / measured.length, 0);
  return { low, high, mean, range: high.value - low.value, points: measured.length, missing, atJuncture };
}

/** Degrees from the weld by the shorter way, 0 to 180. */
export function fromWeld(degrees: number): number {
  const turned = ((requireFinite('degrees', degrees) % 360) + 360) % 360;
  return Math.min(turned, 360 - turned);
}
