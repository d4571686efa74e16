import fc from 'fast-check';
import { expect, it } from 'vitest';
import { counterSteps, spansOf } from './counter-steps.js';

const minute = 60_000;
const reading = (minutes: number, value: number) => ({ at: minutes * minute, value });
const counter = { modulus: 1_000_000, mostPerMinute: 1_000 };

it('counts, rolls over, and leaves open what was set by hand', () => {
  const steps = counterSteps([
    reading(0, 990_000), reading(5, 994_800), reading(15, 3_000), reading(20, 7_500), reading(25, 120), reading(30, 90_000), reading(35, 90_000),
  ], counter);
  expect(steps.map(({ cans, least, because }) => ({ cans, least, because }))).toEqual([
    { cans: 4_800, least: 4_800, because: 'counted' },
    { cans: 8_200, least: 8_200, because: 'rolled-over' },
    { cans: 4_500, least: 4_500, because: 'counted' },
    { cans: null, least: 120, because: 'set-back' },
    { cans: null, least: 0, because: 'jumped' },
    { cans: 0, least: 0, because: 'counted' },
  ]);
  // What is not known is a gap, not a span of nothing.
  expect(spansOf(steps).map(({ at, minutes, good }) => [at / minute, minutes, good])).toEqual([[0, 5, 4_800], [5, 10, 8_200], [15, 5, 4_500], [30, 5, 0]]);
});

it('takes a drop for a set-back where no modulus is known', () => {
  expect(counterSteps([reading(0, 999_900), reading(5, 100)], { modulus: null, mostPerMinute: 1_000 })).toMatchObject([{ cans: null, least: 100, because: 'set-back' }]);
});

it('tells a counter that went back a little from one that was set to 0', () => {
  expect(counterSteps([reading(0, 800_000), reading(5, 799_998)], counter)).toMatchObject([{ cans: null, least: 0, because: 'went-backwards' }]);
  // Exactly what five minutes at full speed give, with the can of tolerance, and one can more.
  expect(counterSteps([reading(0, 800_000), reading(5, 5_001), reading(10, 2)], counter)).toMatchObject([{ least: 5_001, because: 'set-back' }, { least: 2, because: 'set-back' }]);
  expect(counterSteps([reading(0, 800_000), reading(5, 5_002)], counter)).toMatchObject([{ cans: null, least: 0, because: 'went-backwards' }]);
});

it('tells no number when the counter may have gone round unseen', () => {
  expect(counterSteps([reading(0, 10), reading(60, 20)], { modulus: 10_000, mostPerMinute: 1_000 })).toMatchObject([{ cans: null, least: 10, because: 'wrapped-unseen' }]);
});

it('finds again what a counter of any size counted, read often enough', () => {
  fc.assert(fc.property(fc.integer({ min: 6_000, max: 1_000_000 }), fc.array(fc.integer({ min: 0, max: 5_000 }), { minLength: 1, maxLength: 40 }), fc.nat(), (modulus, cans, start) => {
    // Five minutes at most 1,000 a minute: with the one can of tolerance no second number fits below this modulus.
    const wide = Math.max(modulus, 10_002);
    let total = start % wide;
    const readings = [reading(0, total), ...cans.map((made, index) => { total += made; return reading(5 * (index + 1), total % wide); })];
    expect(counterSteps(readings, { modulus: wide, mostPerMinute: 1_000 }).map((step) => step.cans)).toEqual(cans);
  }));
});

it('refuses readings that are none, naming them', () => {
  expect(() => counterSteps([reading(0, -1)], counter)).toThrow(/readings\[0\]\.value/);
  expect(() => counterSteps([reading(0, 1_000_000)], counter)).toThrow(/readings\[0\]\.value must be below modulus/);
  expect(() => counterSteps([reading(5, 1), reading(5, 2)], counter)).toThrow(/readings\[1\]\.at/);
  expect(() => counterSteps([reading(0, 1), { at: Number.NaN, value: 2 }], counter)).toThrow(/readings\[1\]\.at/);
  expect(() => counterSteps([], { modulus: 0, mostPerMinute: 1 })).toThrow(/modulus/);
  expect(counterSteps([reading(0, 1)], counter)).toEqual([]);
});
