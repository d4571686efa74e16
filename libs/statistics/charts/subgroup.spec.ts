import fc from 'fast-check';
import { expect, it } from 'vitest';
import { chartedMembers, chartedStatistics, extremesOf, subgroupStatistics } from './subgroup.js';

it('keeps mean, range, sd and extremes of the readings present', () => {
  expect(subgroupStatistics(Object.freeze([2, 4, null, 9]))).toEqual({ n: 3, mean: 5, range: 7, sd: Math.sqrt(13), low: 2, high: 9 });
});

it('a missing reading is not a zero: the subgroup is smaller', () => {
  expect(subgroupStatistics(Object.freeze([0, 10])).mean).toBe(5);
  expect(subgroupStatistics(Object.freeze([null, 10, 10]))).toEqual({ n: 2, mean: 10, range: 0, sd: 0, low: 10, high: 10 });
});

it('one reading has a mean and no spread', () => {
  expect(subgroupStatistics(Object.freeze([null, 7]))).toEqual({ n: 1, mean: 7, range: null, sd: null, low: 7, high: 7 });
});

it('no reading at all is a gap', () => {
  const gap = { n: 0, mean: null, range: null, sd: null, low: null, high: null };
  expect(subgroupStatistics(Object.freeze([]))).toEqual(gap);
  expect(subgroupStatistics(Object.freeze([null, null]))).toEqual(gap);
});

it('refuses a reading no gauge can give, and names it', () => {
  expect(() => subgroupStatistics(Object.freeze([1, Number.NaN, 2]))).toThrow(new RangeError('subgroupStatistics: reading 2 of 3 is NaN, a finite number or null is expected'));
  expect(() => subgroupStatistics(Object.freeze([Number.POSITIVE_INFINITY]))).toThrow('reading 1 of 1 is Infinity');
  for (const pair of [[1e308, -1e308], [1e200, 3e200]]) expect(() => subgroupStatistics(pair)).toThrow('squared differences stay within the range of numbers');
});

it('padding with missing readings changes nothing', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: 0, max: 500 }), { maxLength: 12 }), fc.array(fc.nat(12), { maxLength: 5 }), (values, places) => {
    const padded: (number | null)[] = [...values];
    for (const place of places) padded.splice(Math.min(place, padded.length), 0, null);
    expect(subgroupStatistics(Object.freeze(padded))).toEqual(subgroupStatistics(Object.freeze(values)));
  }));
});

it('points round one can make one member, the mean of those present', () => {
  const readings = Object.freeze([1, 2, 3, 4, null, 8, null, null]);
  expect(chartedMembers(readings, 2, 'can')).toEqual([1.5, 3.5, 8, null]);
  expect(chartedMembers(readings, 4, 'can')).toEqual([2.5, 8]);
  expect(chartedMembers(readings, 4, 'reading')).toEqual([...readings]);
});

it('refuses readings that do not make whole cans, and NaN among them', () => {
  expect(() => chartedMembers(Object.freeze([1, 2, 3]), 2, 'can')).toThrow('3 readings do not make whole cans of 2 positions');
  expect(() => chartedMembers(Object.freeze([1, 2]), 0, 'reading')).toThrow('whole number of positions a can, 1 or more, 0 given');
  expect(() => chartedMembers(Object.freeze([1, Number.NaN]), 2, 'can')).toThrow(RangeError);
});

it('finds the lowest and the highest reading as the statistics do, and refuses what is no number', () => {
  fc.assert(fc.property(fc.array(fc.option(fc.double({ min: -1e6, max: 1e6, noNaN: true }))), (readings) => {
    const { low, high } = subgroupStatistics(readings);
    expect(extremesOf(readings)).toEqual({ low, high });
  }));
  expect(() => extremesOf([1, null, Number.NaN])).toThrow('reading 3 of 3 is NaN');
});

it('keeps the extremes of the readings beneath the members: by hand for two cans of two positions', () => {
  // Means of the cans 10.1 and 10.2: n, mean, range and sd are theirs, lowest and highest are readings.
  expect(chartedStatistics([10.1, null, 9.9, 10.5], 2, 'can')).toEqual({ n: 2, mean: expect.closeTo(10.15, 12), range: expect.closeTo(0.1, 12), sd: expect.closeTo(0.1 / Math.SQRT2, 12), low: 9.9, high: 10.5 });
  expect(chartedStatistics([10.1, null, 9.9, 10.5], 2, 'reading')).toEqual(subgroupStatistics([10.1, null, 9.9, 10.5]));
  expect(chartedStatistics([null, null], 2, 'can')).toEqual({ n: 0, mean: null, range: null, sd: null, low: null, high: null });
  expect(() => chartedStatistics([10.1, 10.2, 10.3], 2, 'can')).toThrow('do not make whole cans of 2 positions');
});
