import { requireFinite, requirePositive } from '../require-number.js';
import type { Millimetre, Percent } from '../units.js';
import { unmeasuredArc } from './juncture.js';
import { junctureIsAsked, keepsAway, requiredMeasurements, type SeamRule, type TeardownMethod } from './required-measurements.js';
import { fromWeld, type SeamPoint } from './spread-round-the-can.js';

/** The juncture is judged for itself and belongs to none of the points. */
export type JunctureRecord =
  | { examined: true; rating: Percent; droop: boolean; note?: string }
  | { examined: false };

export type Teardown = {
  method: TeardownMethod;
  /** False for a drawn can, which has no juncture. */
  sideSeam: boolean;
  /** Of the body; null: places near the weld cannot be told. */
  insideDiameter: Millimetre | null;
  /** By characteristic code; the points in the order in which they were read. */
  points: Readonly<Record<string, readonly SeamPoint[]>>;
  juncture: JunctureRecord | null;
};

/** One thing that a teardown lacks for a rule. `needs` and `has` are points, or degrees for the last three. */
export type Lack =
  | { kind: 'too-few-points'; characteristic: string; needs: number; has: number }
  | { kind: 'near-the-side-seam'; characteristic: string; index: number; needs: number; has: number }
  | { kind: 'not-spread-round'; characteristic: string; needs: number; has: number }
  | { kind: 'places-not-written'; characteristic: string }
  | { kind: 'juncture-not-examined'; need: 'required' | 'looked for' };

// The rules say "approximately": how much that allows is common practice, no source.
const aboutDegrees = 30;

/**
 * What a teardown lacks of what a rule asks, the required measurements only. An empty answer says that the record is
 * complete, not that the seam is good: limits are the specification's, release is the packer's and the process authority's.
 * @throws RangeError naming the bad input.
 */
export function teardownLacks(teardown: Teardown, rule: SeamRule): Lack[] {
  const lacks: Lack[] = [];
  const keepAway = keepsAway(rule);
  const arc = teardown.insideDiameter === null ? null : unmeasuredArc(requirePositive('insideDiameter', teardown.insideDiameter), keepAway).degreesEachSide;
  for (const { characteristic, points, need } of requiredMeasurements(rule, teardown.method)) {
    if (need === 'optional') continue;
    const read = (teardown.points[characteristic] ?? []).map((point, index) => ({ ...point, index })).filter(({ value }) => value !== null && Number.isFinite(requireFinite(characteristic, value)));
    if (points === 1) {
      if (read.length === 0) lacks.push({ kind: 'too-few-points', characteristic, needs: 1, has: 0 });
      continue;
    }
    const near = teardown.sideSeam ? read.filter(({ degrees }) => degrees !== null && (fromWeld(degrees) === 0 || (arc !== null && fromWeld(degrees) < arc))) : [];
    for (const { index, degrees } of near) lacks.push({ kind: 'near-the-side-seam', characteristic, index, needs: arc ?? 0, has: fromWeld(degrees ?? 0) });
    const away = read.filter((point) => !near.includes(point));
    if (away.length < points) lacks.push({ kind: 'too-few-points', characteristic, needs: points, has: away.length });
    const places = away.flatMap(({ degrees }) => (degrees === null ? [] : [degrees]));
    if (places.length < away.length || (teardown.sideSeam && keepAway > 0 && arc === null)) lacks.push({ kind: 'places-not-written', characteristic });
    else if (places.length >= points && points === 3 && widestGap(places) > 120 + aboutDegrees) lacks.push({ kind: 'not-spread-round', characteristic, needs: 120, has: widestGap(places) });
  }
  if (teardown.sideSeam && teardown.juncture?.examined !== true) lacks.push({ kind: 'juncture-not-examined', need: junctureIsAsked[rule] });
  return lacks;
}

/** Largest part of the round without a point, degrees. */
function widestGap(places: readonly number[]): number {
  const sorted = places.map((degrees) => ((degrees % 360) + 360) % 360).sort((a, b) => a - b);
  return sorted.reduce((widest, degrees, index) => Math.max(widest, index + 1 < sorted.length ? (sorted[index + 1] ?? 0) - degrees : (sorted[0] ?? 0) + 360 - degrees), 0);
}
