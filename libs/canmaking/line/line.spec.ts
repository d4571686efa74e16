import { expect, it } from 'vitest';
import { cansAtRisk, cansFromCounts } from './cans-at-risk.js';
import { isStepKind, stepKinds, stepOrder } from './steps.js';
import { transitLag, walkBack } from './transit.js';

const at = (clock: string) => Date.parse(`2024-03-04T${clock}Z`);

it.each([
  // cans/min, minutes, heads, expected: plain arithmetic
  [960, 30, 1, 28_800], [960, 30, 8, 3_600], [960, 240, 1, 230_400], [960, 240, 8, 28_800],
  [420, 240, 1, 100_800], [420, 240, 6, 16_800], [300, 240, 1, 72_000], [300, 240, 4, 18_000], [960, 60, 8, 7_200],
])('%d cans a minute over %d minutes, one of %d', (cansPerMinute, minutes, shareOf, expected) => {
  expect(cansAtRisk({ cansPerMinute, lastGoodAt: 0, until: minutes * 60_000, shareOf })).toBe(expected);
});

it('rounds a part of a can up and refuses a window that ends before it begins', () => {
  expect(cansAtRisk({ cansPerMinute: 7, lastGoodAt: 0, until: 10_000 })).toBe(2);
  expect(() => cansAtRisk({ cansPerMinute: 7, lastGoodAt: 1, until: 0 })).toThrow(/until/);
});

it('counts touched buckets whole and says how much of the window no counter saw', () => {
  const buckets = [
    { at: at('10:00:00'), minutes: 5, good: 4_800 }, { at: at('10:05:00'), minutes: 5, good: 3_000 }, { at: at('10:20:00'), minutes: 5, good: 4_700 },
  ];
  expect(cansFromCounts(buckets, at('10:03:00'), at('10:15:00'))).toEqual({ cans: 7_800, uncoveredMinutes: 5 });
});

it('adds path and waiting time: 20 m at 1.676 m/s and 2,400 cans at 960 a minute are 161.9 s', () => {
  const lag = transitLag([
    { kind: 'path', metres: 20, metresPerSecond: 1.676 }, { kind: 'waiting', cans: 2_400, cansPerMinute: 960 },
  ]);
  expect(lag).toBeCloseTo(161.9, 1);
  const welded = walkBack({ from: at('10:00:00'), until: at('10:00:00') }, [{ shortestSeconds: lag, longestSeconds: lag }]);
  expect(new Date(welded.from).toISOString().slice(11, 19)).toBe('09:57:18');
});

it('lets the window grow on the way back, never shrink', () => {
  const back = walkBack({ from: 1_000_000, until: 1_060_000 }, [
    { shortestSeconds: 12, longestSeconds: 12 }, { shortestSeconds: 0, longestSeconds: 150 },
  ]);
  expect(back).toEqual({ from: 838_000, until: 1_048_000 });
  expect(() => walkBack({ from: 0, until: 1 }, [{ shortestSeconds: 5, longestSeconds: 4 }])).toThrow(/longestSeconds/);
});

it('knows the process order', () => {
  expect(stepOrder('body-maker')).toBeLessThan(stepOrder('flanger'));
  expect(stepOrder('flanger')).toBeLessThan(stepOrder('seamer'));
  expect(stepKinds).toHaveLength(new Set(stepKinds).size);
  expect(isStepKind('seamer')).toBe(true);
  expect(isStepKind('filler')).toBe(false);
});
