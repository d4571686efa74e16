import { expect, it } from 'vitest';
import { stepPoint } from './step-point.js';

const firing = (index: number) => ({ index, chart: 'mean' as const, rule: 'beyond-limits' as const, side: 'above' as const, signalId: 1, signalState: 'open' });
const chart = (count: number, flagged: number[]) => ({
  points: { takenAt: Array.from({ length: count }, (_none, index) => `t${index}`), sequence: [], n: [], mean: [], spread: [], limitsId: [], status: [] }, firings: flagged.map(firing),
});

it('begins at the newest point and stops at both ends', () => {
  expect([stepPoint(chart(5, []), null, 'previous'), stepPoint(chart(5, []), 4, 'next'), stepPoint(chart(5, []), 0, 'previous'), stepPoint(chart(5, []), 2, 'next')]).toEqual([4, 4, 0, 3]);
  expect([stepPoint(chart(5, []), 2, 'first'), stepPoint(chart(5, []), 2, 'last')]).toEqual([0, 4]);
});

it('goes from one point with a signal to the next, whatever their order', () => {
  const of = chart(9, [7, 2, 2, 5]);
  expect([stepPoint(of, null, 'previousFlagged'), stepPoint(of, 7, 'previousFlagged'), stepPoint(of, 2, 'previousFlagged')]).toEqual([7, 5, null]);
  expect([stepPoint(of, 3, 'nextFlagged'), stepPoint(of, 7, 'nextFlagged'), stepPoint(of, 0, 'nextFlagged')]).toEqual([5, null, 2]);
});

it('leads nowhere on an empty chart', () => {
  expect(stepPoint(chart(0, []), null, 'next')).toBeNull();
});
