import { expect, it } from 'vitest';
import { opticalButting } from './optical.js';
import { fromWeld, spreadRoundTheCan } from './spread-round-the-can.js';

it('keeps lowest and highest in sight, with where they were', () => {
  const spread = spreadRoundTheCan([{ degrees: 60, value: 1.7 }, { degrees: 180, value: 1.55 }, { degrees: 300, value: 1.75 }], 65.3);
  expect(spread).toEqual({
    low: { value: 1.55, index: 1, degrees: 180 }, high: { value: 1.75, index: 2, degrees: 300 }, mean: expect.closeTo(5 / 3, 9), range: expect.closeTo(0.2, 9),
    points: 3, missing: [], atJuncture: [],
  });
});

it('keeps the juncture out of the numbers', () => {
  const points = [{ degrees: 60, value: 1.7 }, { degrees: 350, value: 1.1 }, { degrees: 180, value: null }, { degrees: 240, value: 1.7 }];
  const spread = spreadRoundTheCan(points, 65.3);
  expect(spread).toMatchObject({ mean: 1.7, range: 0, points: 2, missing: [2], atJuncture: [{ value: 1.1, index: 1, degrees: 350 }] });
  // The same angle is far enough from the weld on a can that is large.
  expect(spreadRoundTheCan(points, 153)?.atJuncture).toEqual([]);
  expect(spreadRoundTheCan(points, null)).toMatchObject({ low: { value: 1.1 }, points: 3 });
});

it('gives nothing where nothing was read away from the weld', () => {
  expect(spreadRoundTheCan([], 65.3)).toBeNull();
  expect(spreadRoundTheCan([{ degrees: 3, value: 1.1 }, { degrees: null, value: null }], 65.3)).toBeNull();
  expect(() => spreadRoundTheCan([{ degrees: 60, value: Number.NaN }], 65.3)).toThrow(/value/);
});

it('measures the angle from the weld by the shorter way', () => {
  expect([0, 90, 190, 350, -10, 720].map(fromWeld)).toEqual([0, 90, 170, 10, 10, 0]);
});

it('reads butting under a scope as another number than the calculated one', () => {
  expect(opticalButting({ buttedLength: 1.4, bodyHook: 1.75 })).toBeCloseTo(80, 9);
  expect(() => opticalButting({ buttedLength: 1.8, bodyHook: 1.75 })).toThrow(/buttedLength/);
});
