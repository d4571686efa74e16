import fc from 'fast-check';
import { expect, it } from 'vitest';
import { holdArithmetic, type HoldQuestion } from './hold-arithmetic.js';
import { palletsOfSpan } from './pallets-of-span.js';

const minute = 60_000;
const at = (clock: string) => Date.parse(`2026-03-04T${clock}Z`);
const perMinute = (from: number, minutes: number, good: number) => Array.from({ length: minutes }, (_, index) => ({ at: from + index * minute, minutes: 1, good }));
const none = { shortestSeconds: 0, longestSeconds: 0 };
const question = (change: Partial<HoldQuestion> = {}): HoldQuestion => ({
  span: { from: at('09:30:00'), until: at('10:30:00') }, counts: [{ machineId: 7, buckets: perMinute(at('09:00:00'), 180, 960) }], units: 1, lanes: 1, back: none, forward: none, pallets: [], ...change,
});

it('last good 09:30, next good 10:30 at 960 a minute: 57,600 cans, 7,200 of one of eight heads (arithmetic)', () => {
  expect(holdArithmetic(question()).cans).toEqual({ counted: 57_600, shareOf: 1, suspect: 57_600 });
  expect(holdArithmetic(question({ units: 8 })).cans).toEqual({ counted: 57_600, shareOf: 8, suspect: 7_200 });
  expect(holdArithmetic(question({ units: 8, lanes: 3 })).cans?.suspect).toBe(2_400);
});

it('walks back 161.9 s to the weld, and on to the palletizer, growing both ways', () => {
  const answer = holdArithmetic(question({ back: { shortestSeconds: 161.9, longestSeconds: 161.9 }, forward: { shortestSeconds: 45, longestSeconds: 280 } }));
  expect(new Date(answer.atFault.from).toISOString()).toBe('2026-03-04T09:27:18.100Z');
  expect(new Date(answer.atFault.until).toISOString()).toBe('2026-03-04T10:27:18.100Z');
  expect([answer.atPallets.from, answer.atPallets.until]).toEqual([at('09:30:45'), at('10:34:40')]);
});

it('adds the machines of a step, and says what each did not count', () => {
  const answer = holdArithmetic(question({ counts: [{ machineId: 1, buckets: perMinute(at('09:30:00'), 60, 100) }, { machineId: 2, buckets: perMinute(at('10:00:00'), 10, 100) }] }));
  expect(answer.counted).toEqual([{ machineId: 1, cans: 6_000, uncoveredMinutes: 0 }, { machineId: 2, cans: 1_000, uncoveredMinutes: 50 }]);
  expect(answer.cans?.counted).toBe(7_000);
  expect(holdArithmetic(question({ counts: [] })).cans).toBeNull();
  expect(holdArithmetic(question({ counts: [{ machineId: 1, buckets: [] }] })).cans).toBeNull();
});

it('finds what the listed pallets leave open, and pallets that have nothing to do with it', () => {
  const pallet = (code: string, from: string, until: string) => ({ code, span: { from: at(from), until: at(until) } });
  const { pallets } = holdArithmetic(question({ pallets: [pallet('1', '09:20:00', '09:45:00'), pallet('2', '09:40:00', '10:00:00'), pallet('4', '10:20:00', '10:50:00'), pallet('9', '10:30:00', '10:45:00'), { code: '?', span: null }] }));
  expect(pallets).toEqual({ listed: 5, withoutSpan: 1, outside: ['9'], gapMinutes: 20 });
  expect(holdArithmetic(question()).pallets.gapMinutes).toBe(60);
});

it('refuses a span that is none, shares that are none and a transit that runs backwards', () => {
  expect(() => holdArithmetic(question({ span: { from: 1, until: 1 } }))).toThrow('until: needs a moment after from 1, 1 given');
  expect(() => holdArithmetic(question({ span: { from: 1, until: Number.NaN } }))).toThrow('until');
  expect(() => holdArithmetic(question({ units: 1.5 }))).toThrow('units: needs a whole number of shares, 1 or more, 1.5 given');
  expect(() => holdArithmetic(question({ lanes: 0 }))).toThrow('lanes');
  expect(() => holdArithmetic(question({ forward: { shortestSeconds: 3, longestSeconds: 2 } }))).toThrow('forward: needs 0 <= shortestSeconds');
  expect(() => holdArithmetic(question({ back: { shortestSeconds: 3, longestSeconds: 2 } }))).toThrow('longestSeconds');
});

it('half a pallet is held whole: ten-minute pallets begun at the full hour', () => {
  const figure = { palletsPerMinute: 0.1, boundaryAt: at('06:00:00'), prefix: 'P' };
  expect(palletsOfSpan({ from: at('09:35:00'), until: at('10:05:00') }, figure)).toEqual({ count: 4, pallets: ['09:30', '09:40', '09:50', '10:00'].map((clock, index) => ({ code: `P${index + 1}`, span: { from: at(`${clock}:00`), until: at(`${clock}:00`) + 10 * minute } })) });
  expect(palletsOfSpan({ from: at('09:30:00'), until: at('10:00:00') }, figure).count).toBe(3);
  expect(palletsOfSpan({ from: at('09:30:00'), until: at('10:00:01') }, figure).count).toBe(4);
  // Begun later than the span: counted back from it.
  expect(palletsOfSpan({ from: at('09:35:00'), until: at('10:05:00') }, { ...figure, boundaryAt: at('12:00:00') }).count).toBe(4);
});

it('one more where nobody knows when a pallet was begun', () => {
  const figure = { palletsPerMinute: 0.1, boundaryAt: null, prefix: '' };
  expect(palletsOfSpan({ from: at('09:35:00'), until: at('10:05:00') }, figure)).toEqual({ count: 4, pallets: [] });
  expect(palletsOfSpan({ from: at('09:35:00'), until: at('09:36:00') }, figure).count).toBe(2);
  expect(() => palletsOfSpan({ from: 0, until: 86_400_000 }, { ...figure, palletsPerMinute: 2 })).toThrow('at most 2000 pallets, 2881 would be touched');
  expect(() => palletsOfSpan({ from: 0, until: 1 }, { ...figure, palletsPerMinute: 0 })).toThrow('palletsPerMinute');
});

it('the computed pallets leave no minute of the span open, and none of them lies outside', () => {
  fc.assert(fc.property(fc.integer({ min: 0, max: 10_000_000 }), fc.integer({ min: 1000, max: 20_000_000 }), fc.double({ min: 0.02, max: 2, noNaN: true }), fc.integer({ min: 0, max: 30_000_000 }), (from, length, palletsPerMinute, boundaryAt) => {
    const span = { from: from * 1000, until: from * 1000 + length };
    const { count, pallets } = palletsOfSpan(span, { palletsPerMinute, boundaryAt: boundaryAt * 1000, prefix: 'P' });
    const answer = holdArithmetic(question({ span, counts: [], pallets }));
    expect(answer.pallets.gapMinutes).toBeLessThan(1e-6);
    expect(pallets.length).toBe(count);
    expect(count).toBeLessThanOrEqual(palletsOfSpan(span, { palletsPerMinute, boundaryAt: null, prefix: '' }).count);
  }), { numRuns: 200 });
});
