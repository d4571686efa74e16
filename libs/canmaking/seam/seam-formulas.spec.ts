import { expect, it } from 'vitest';
import { bodyHookButting } from './body-hook-butting.js';
import { chuckLipAllowance } from './countersink.js';
import { freeSpace } from './free-space.js';
import { junctureRating, junctureThickness, unmeasuredArc } from './juncture.js';
import { overlap } from './overlap.js';
import { percentOverlap } from './percent-overlap.js';
import { tightness, tightnessFromWrinkleNumber } from './tightness.js';

// Invented cans; each result worked by hand from the printed formula (21 CFR 113.60(a)(1)(iii), 2015 edition, for the
// overlap with k = 1.0; the others from memory), to the digits shown.
const cans = [
  { name: 'A65', coverHook: 1.65, bodyHook: 1.75, endPlate: 0.19, bodyPlate: 0.15, seamLength: 2.55, seamThickness: 0.99, countersink: 2.7,
    ol10: 1.04, ol11: 1.059, pct10: 51.49, pct11: 53.84, bhb: 80.58, fs: 0.12, lip: 0.15 },
  { name: 'B73', coverHook: 1.95, bodyHook: 2.0, endPlate: 0.2, bodyPlate: 0.16, seamLength: 2.95, seamThickness: 1.06, countersink: 3.15,
    ol10: 1.2, ol11: 1.22, pct10: 50.21, pct11: 52.27, bhb: 78.15, fs: 0.14, lip: 0.2 },
  { name: 'C99', coverHook: 1.98, bodyHook: 2.05, endPlate: 0.22, bodyPlate: 0.18, seamLength: 3.0, seamThickness: 1.16, countersink: 3.22,
    ol10: 1.25, ol11: 1.272, pct10: 52.52, pct11: 54.87, bhb: 79.9, fs: 0.14, lip: 0.22 },
  { name: 'A65 bad', coverHook: 1.4, bodyHook: 1.58, endPlate: 0.19, bodyPlate: 0.15, seamLength: 2.62, seamThickness: 1.07, countersink: 2.86,
    ol10: 0.55, ol11: 0.569, pct10: 26.32, pct11: 27.93, bhb: 69.46, fs: 0.2, lip: 0.24 },
];

it.each(cans)('reproduces the worked can $name', (can) => {
  expect(overlap(can, 1.0)).toBeCloseTo(can.ol10, 9);
  expect(overlap(can, 1.1)).toBeCloseTo(can.ol11, 9);
  expect(Math.abs(percentOverlap(can, 1.0) - can.pct10)).toBeLessThanOrEqual(0.005);
  expect(Math.abs(percentOverlap(can, 1.1) - can.pct11)).toBeLessThanOrEqual(0.005);
  expect(Math.abs(bodyHookButting(can) - can.bhb)).toBeLessThanOrEqual(0.005);
  expect(freeSpace(can)).toBeCloseTo(can.fs, 9);
  expect(chuckLipAllowance(can)).toBeCloseTo(can.lip, 9);
});

it('works in inches as the law prints it: 0.075 + 0.078 + 0.010 − 0.119 = 0.044 in', () => {
  const inches = overlap({ coverHook: 0.075, bodyHook: 0.078, endPlate: 0.01, seamLength: 0.119 }, 1);
  expect(inches).toBeCloseTo(0.044, 9);
  expect(inches * 25.4).toBeCloseTo(1.12, 2);
});

it('moves free space by three times an error in the end plate', () => {
  const can = { seamThickness: 0.99, bodyPlate: 0.15 };
  expect(freeSpace({ ...can, endPlate: 0.195 }) - freeSpace({ ...can, endPlate: 0.19 })).toBeCloseTo(-0.015, 9);
});

it('rates tightness from the worst wrinkle, and refuses a wrinkle longer than its hook', () => {
  expect(tightness({ coverHook: 1.65, wrinkleLength: 0.25 })).toBeCloseTo(84.8, 1);
  expect(tightness({ coverHook: 1.95, wrinkleLength: 0.6 })).toBeCloseTo(69.2, 1);
  expect(() => tightness({ coverHook: 1.65, wrinkleLength: 1.7 })).toThrow(/wrinkleLength/);
});

it('turns the older wrinkle number round: 0 is best there, 100 % here', () => {
  expect(tightnessFromWrinkleNumber(0)).toBe(100);
  expect(tightnessFromWrinkleNumber(3)).toBe(70);
  expect(() => tightnessFromWrinkleNumber(11)).toThrow(RangeError);
});

it('rates the juncture against the hook beside it', () => {
  expect(junctureRating({ coverHookAtJuncture: 1.15, coverHookBeside: 1.65 })).toBeCloseTo(69.7, 1);
  expect(junctureThickness({ seamThickness: 0.99, bodyPlate: 0.15, weldRatio: 1.4 })).toBeCloseTo(1.11, 9);
});

it('shows how much of an A65 no seam point covers: 22 degrees each side, 12.4 % of the round', () => {
  const arc = unmeasuredArc(65.3);
  expect(arc.degreesEachSide).toBeCloseTo(22.3, 1);
  expect(arc.percent).toBeCloseTo(12.4, 1);
});

it('names the input that it refuses', () => {
  const can = { coverHook: 1.65, bodyHook: 1.75, endPlate: 0.19, bodyPlate: 0.15, seamLength: 2.55 };
  expect(() => overlap({ ...can, coverHook: Number.NaN }, 1)).toThrow(/coverHook/);
  expect(() => overlap({ ...can, seamLength: 0 }, 1)).toThrow(/seamLength/);
  expect(() => overlap(can, -1)).toThrow(/^k /);
  expect(() => percentOverlap({ ...can, seamLength: 0.5 }, 1)).toThrow(/seamLength/);
  expect(() => bodyHookButting({ ...can, seamLength: 0.5 })).toThrow(/seamLength/);
  expect(() => freeSpace({ seamThickness: Number.POSITIVE_INFINITY, endPlate: 0.19, bodyPlate: 0.15 })).toThrow(/seamThickness/);
});
