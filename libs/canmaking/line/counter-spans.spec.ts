import fc from 'fast-check';
import { expect, it } from 'vitest';
import { counterSpans, wouldRollOverAt } from './counter-spans.js';

const minute = 60_000;
const reading = (minutes: number, good: number, rejected: number | null = null) => ({ at: minutes * minute, good, rejected });
const counter = { modulus: 1_000_000, mostPerMinute: 1_000 };
const placed = (spans: readonly { at: number; minutes: number; good: number; rejected: number }[]) => spans.map(({ at, minutes, good, rejected }) => [at / minute, minutes, good, rejected]);

it('makes spans of both counters, and none where one of them does not tell', () => {
  const { spans, steps, tooLong } = counterSpans([reading(0, 999_000, 40), reading(5, 1_500, 44), reading(10, 4_000, 3), reading(15, 6_000, 5), reading(20, 8_000), reading(25, 9_000)], counter);
  expect(placed(spans)).toEqual([[0, 5, 2_500, 4], [10, 5, 2_000, 2], [20, 5, 1_000, 0]]);
  expect(steps.filter(({ because }) => because !== 'counted').map(({ counter: which, from, because, cans, least }) => [which, from / minute, because, cans, least])).toEqual([
    ['good', 0, 'rolled-over', 2_500, 2_500], ['rejected', 5, 'set-back', null, 3], ['rejected', 15, 'not-told', null, 0],
  ]);
  expect(tooLong).toEqual([]);
});

it('does not spread the cans of more than a day over it', () => {
  const { spans, tooLong } = counterSpans([reading(0, 10), reading(1_440, 500), reading(2_881, 600)], { modulus: null, mostPerMinute: 1_000 });
  expect(placed(spans)).toEqual([[0, 1_440, 490, 0]]);
  expect(tooLong).toEqual([{ from: 1_440 * minute, until: 2_881 * minute }]);
});

it('tells all cans of counters that were read often enough, whatever they showed at first and however often they rolled over', () => {
  const made = fc.record({ good: fc.integer({ min: 0, max: 4_000 }), rejected: fc.integer({ min: 0, max: 900 }) });
  fc.assert(fc.property(fc.array(made, { minLength: 1, maxLength: 30 }), fc.integer({ min: 10_002, max: 1_000_000 }), fc.nat(), fc.nat(), (cans, modulus, startGood, startRejected) => {
    let [good, rejected] = [startGood, startRejected];
    const readings = [reading(0, good % modulus, rejected % modulus), ...cans.map((one, index) => { good += one.good; rejected += one.rejected; return reading(5 * (index + 1), good % modulus, rejected % modulus); })];
    expect(counterSpans(readings, { modulus, mostPerMinute: 1_000 }).spans.map(({ good: out, rejected: thrown }) => ({ good: out, rejected: thrown }))).toEqual(cans);
  }));
});

it('suggests the digits that would make a fall a roll-over, and no others', () => {
  expect(wouldRollOverAt(999_400, 600, 5_001)).toBe(1_000_000);
  expect(wouldRollOverAt(99_990, 10, 5_001)).toBe(100_000);
  // 500,000 is in the middle of six digits: that is no roll-over.
  expect(wouldRollOverAt(500_000, 600, 5_001)).toBeNull();
  expect(wouldRollOverAt(600, 999_400, 5_001)).toBeNull();
});

it('refuses readings that are none, naming them', () => {
  expect(() => counterSpans([reading(0, 1, -1), reading(5, 2, 3)], counter)).toThrow(/value must be zero or more/);
  expect(() => counterSpans([reading(0, 1), reading(5, 2, Number.NaN)], counter)).toThrow(/readings\[0\]\.rejected/);
  expect(() => counterSpans([reading(5, 1), reading(0, 2)], counter)).toThrow(/readings\[1\]\.at/);
  expect(counterSpans([], counter)).toEqual({ steps: [], spans: [], tooLong: [] });
});
