import { expect, it } from 'vitest';
import { partVariation } from './part-variation.js';

const sources = (parted: ReturnType<typeof partVariation>) => parted.components.map((component) => component.sources.join('+'));

// 3 checks of 2 cans with 2 positions.
const NESTED = [
  { readings: [10, 11, 12, 12], positions: 2 },
  { readings: [14, 14, 13, 14], positions: 2 },
  { readings: [9, 10, 11, 10], positions: 2 },
];

it('parts check, can and position as the nested analysis of variance does by hand', () => {
  const { components, mean, cans, readings, refusal } = partVariation(NESTED);
  // Check means 11.25, 13.75, 10; grand mean 35/3. SS = 4 * sum of squared deviations = 4 * (0.173611 + 4.340278 + 2.777778).
  const msCheck = (4 * (25 / 144 + 625 / 144 + 25 / 9)) / 2;
  // Can means 10.5 12 | 14 13.5 | 9.5 10.5: half of each squared difference, times 2 readings.
  const msCan = (2 * (1.5 ** 2 / 2 + 0.5 ** 2 / 2 + 1 ** 2 / 2)) / 3;
  // Four cans whose two positions differ by 1.
  const msPosition = (4 * 0.5) / 6;
  expect(components.map(({ raw }) => raw)).toEqual([(msCheck - msCan) / 4, (msCan - msPosition) / 2, msPosition].map((value) => expect.closeTo(value, 12)));
  expect(components.map(({ df }) => df)).toEqual([2, 3, 6]);
  expect([mean, cans, readings, refusal]).toEqual([expect.closeTo(35 / 3, 12), 6, 12, null]);
  expect(components.reduce((sum, { share }) => sum + (share ?? 0), 0)).toBeCloseTo(1, 12);
});

it('keeps together what the readings cannot tell apart', () => {
  expect(sources(partVariation(NESTED))).toEqual(['check', 'can', 'position']);
  expect(sources(partVariation(NESTED.map((check) => ({ ...check, positions: 1 }))))).toEqual(['check', 'can+position']);
  expect(sources(partVariation(NESTED.map((check) => ({ ...check, positions: 4 }))))).toEqual(['check+can', 'position']);
  const alone = partVariation([1, 3, 5].map((value) => ({ readings: [value], positions: 1 })));
  expect(sources(alone)).toEqual(['check+can+position']);
  expect(alone.components[0]).toMatchObject({ variance: 4, df: 2, share: 1 });
});

it('keeps a negative component as it is, and cuts it for use', () => {
  const { components: [check] } = partVariation([{ readings: [1, 5], positions: 1 }, { readings: [5, 1], positions: 1 }, { readings: [1, 5], positions: 1 }]);
  expect(check).toMatchObject({ raw: -4, variance: 0, share: 0 });
});

it('leaves missing readings out, also where that makes the cans uneven', () => {
  const { components, readings } = partVariation([{ readings: [10, null, 12, 12], positions: 2 }, ...NESTED.slice(1)]);
  expect(readings).toBe(11);
  expect(components.map(({ df }) => df)).toEqual([2, 3, 5]);
  expect(components.every(({ interval }) => interval === null)).toBe(true);
});

it('says that one check, or none, tells nothing, and that nothing varies where all are equal', () => {
  expect(partVariation([])).toEqual({ cans: 0, readings: 0, mean: null, components: [], refusal: 'too-little-data' });
  expect(partVariation(NESTED.slice(0, 1)).refusal).toBe('too-little-data');
  const flat = partVariation([{ readings: [2, 2], positions: 1 }, { readings: [2, 2], positions: 1 }]);
  expect(flat.components.map(({ variance, share }) => [variance, share])).toEqual([[0, null], [0, null]]);
});
