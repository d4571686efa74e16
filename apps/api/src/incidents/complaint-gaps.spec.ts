import { expect, it } from 'vitest';
import { gapOf } from './complaint-gaps.js';

const at = (hour: number) => new Date(Date.UTC(2026, 5, 1, hour));
const complaint = (id: number, hour: number) => ({ id, madeAt: at(hour) });
const step = { first: at(2), last: at(20) };

it('knows the cans only where counting went on from the first can to the second', () => {
  const counted = { cans: 1234.4, longestHoleHours: 1.5 };
  expect(gapOf(complaint(1, 4), complaint(2, 10), step, counted)).toMatchObject({ fromId: 1, toId: 2, days: 0.25, cans: 1234, missing: null, longestHoleHours: 1.5 });
  expect(gapOf(complaint(1, 1), complaint(2, 10), step, counted)).toMatchObject({ cans: null, missing: 'before-counts' });
  expect(gapOf(complaint(1, 4), complaint(2, 21), step, counted)).toMatchObject({ cans: null, missing: 'after-counts' });
  expect(gapOf(complaint(1, 4), complaint(2, 10), step, { cans: null, longestHoleHours: 6 })).toMatchObject({ cans: null, missing: 'no-counts' });
  expect(gapOf(complaint(1, 4), complaint(2, 10), null, undefined)).toMatchObject({ cans: null, missing: 'no-counts', longestHoleHours: 6 });
});

it('puts no can between two complaints about the same moment', () => {
  expect(gapOf(complaint(1, 4), complaint(2, 4), step, { cans: null, longestHoleHours: 0 })).toMatchObject({ cans: 0, missing: null, days: 0 });
});
