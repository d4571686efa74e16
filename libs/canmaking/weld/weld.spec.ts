import { expect, it } from 'vitest';
import { blankLength } from './blank-length.js';
import { frequencyForPitch, nuggetPitch } from './nugget-pitch.js';
import { unmeasuredArc } from '../seam/juncture.js';
import { overlapTaper } from './taper.js';
import { weldRatio } from './weld-ratio.js';
import { cansPerMinute, weldingSpeed } from './welding-speed.js';
import { windowPosition } from './window-position.js';

// Invented cans, each figure worked by hand from geometry or physics to the digits shown.
it.each([
  [65.3, 0.15, 0.42, 206.04], [72.9, 0.16, 0.45, 229.97], [98.9, 0.18, 0.48, 311.75],
])('cuts the blank for an inside diameter of %d', (insideDiameter, bodyPlate, weldOverlap, expected) => {
  expect(blankLength({ insideDiameter, bodyPlate, weldOverlap })).toBeCloseTo(expected, 2);
});

it.each([
  [480, 208, 850, 100.56, 0.986], [420, 112, 600, 47.67, 0.662], [300, 121, 500, 36.75, 0.6125],
])('welds %d bodies a minute of %d mm', (bodiesPerMinute, bodyLength, frequency, speed, pitch) => {
  const actual = weldingSpeed({ bodiesPerMinute, bodyLength, gap: 1.5 });
  expect(actual).toBeCloseTo(speed, 9);
  expect(nuggetPitch(actual, frequency)).toBeCloseTo(pitch, 3);
  expect(frequencyForPitch(actual, nuggetPitch(actual, frequency))).toBeCloseTo(frequency, 6);
});

it('needs 931 Hz for a pitch of 0.90 at 100.56 m/min', () => {
  expect(frequencyForPitch(100.56, 0.9)).toBeCloseTo(931, 0);
});

it('places the current in its window, and sees the window move with the setting untouched', () => {
  expect(windowPosition({ current: 3320, coldEdge: 3150, splashEdge: 3470 })).toBeCloseTo(0.53, 2);
  expect(windowPosition({ current: 3320, coldEdge: 3230, splashEdge: 3470 })).toBeCloseTo(0.375, 9);
  expect(() => windowPosition({ current: 3320, coldEdge: 3470, splashEdge: 3150 })).toThrow(/splashEdge/);
});

it('relates weld to plate', () => {
  expect(weldRatio({ weldThickness: 0.21, bodyPlate: 0.15 })).toBeCloseTo(1.4, 9);
  expect(() => weldRatio({ weldThickness: 0.21, bodyPlate: 0 })).toThrow(/bodyPlate/);
});

it('parts 650 double-high bodies a minute into 1,300 cans (common practice, no source)', () => {
  expect(cansPerMinute(650, 2)).toBe(1_300);
  expect(() => cansPerMinute(650, 1.5)).toThrow(/cansPerBody/);
});

it('holds for a body of 0.13 mm plate and 52 mm diameter, the small end of what is welded (common practice, no source)', () => {
  // By hand: 3.14159 x 52.13 + 0.40 = 164.17 mm; two times 12.7 mm of 163.36 mm are 15.5 %.
  expect(blankLength({ insideDiameter: 52, bodyPlate: 0.13, weldOverlap: 0.4 })).toBeCloseTo(164.17, 2);
  expect(unmeasuredArc(52).percent).toBeCloseTo(15.5, 1);
  expect(weldRatio({ weldThickness: 0.182, bodyPlate: 0.13 })).toBeCloseTo(1.4, 9);
  // 650 double bodies of 2 x 52 mm and a gap of 1.5 mm: 68.575 m/min.
  expect(weldingSpeed({ bodiesPerMinute: 650, bodyLength: 104, gap: 1.5 })).toBeCloseTo(68.575, 9);
});

it('gives the wedge of an overlap a sign', () => {
  expect(overlapTaper({ front: 0.45, middle: 0.43, back: 0.41 })).toEqual({ difference: expect.closeTo(0.04, 9), wedge: 'wide-in-front', bow: expect.closeTo(0, 9) });
  expect(overlapTaper({ front: 0.4, middle: 0.44, back: 0.42 })).toEqual({ difference: expect.closeTo(-0.02, 9), wedge: 'wide-at-the-back', bow: expect.closeTo(0.03, 9) });
  expect(overlapTaper({ front: 0.42, middle: null, back: 0.41, gaugeStep: 0.01 })).toEqual({ difference: expect.closeTo(0.01, 9), wedge: 'none', bow: null });
  expect(() => overlapTaper({ front: Number.NaN, middle: null, back: 0.4 })).toThrow(/front/);
});

it('shifts the overlap of a body by as much as its blank is longer', () => {
  const blank = blankLength({ insideDiameter: 65.3, bodyPlate: 0.15, weldOverlap: 0.42 });
  expect(blankLength({ insideDiameter: 65.3, bodyPlate: 0.15, weldOverlap: 0.47 }) - blank).toBeCloseTo(0.05, 9);
});
