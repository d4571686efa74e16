import type { Defect } from './defect.js';
import { doubleSeamInside } from './double-seam-inside.js';
import { doubleSeamOutside } from './double-seam-outside.js';
import { flangeBodyEndCoating } from './flange-body-end-coating.js';
import { sideSeam } from './side-seam.js';

/** All defects, along the seam, the weld, then the rest of the can. */
export const defects: readonly Defect[] = [...doubleSeamOutside, ...doubleSeamInside, ...sideSeam, ...flangeBodyEndCoating];

const byCode = new Map(defects.map((defect) => [defect.code, defect]));

/** The defect of that code, or null: an unknown code is answered, not invented. */
export function findDefect(code: string): Defect | null {
  return byCode.get(code) ?? null;
}

/**
 * Where a complaint can place a leak. The juncture comes as a place of its own: of the swelled low-acid cans of the 1981
 * study in J. Food Protection (44(9), 692), it was the worst single place, and no routine seam point covers it.
 */
export const leakPlaces = [
  "double seam, maker's end", "double seam, packer's end", 'juncture', 'side seam', 'flange', 'body', 'end', 'unknown',
] as const;

export type LeakPlace = (typeof leakPlaces)[number];
