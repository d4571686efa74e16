import { expect, it } from 'vitest';
import { blankLength } from './blank-length.js';
import { frequencyForPitch, nuggetPitch } from './nugget-pitch.js';
import { weldRatio } from './weld-ratio.js';
import { weldingSpeed } from './welding-speed.js';
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
