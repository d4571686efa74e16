import fc from 'fast-check';
import { expect, it } from 'vitest';
import { mean } from '../numeric/mean.js';
import { subgroupPass } from './batch.js';
import { subgroupStatistics } from './subgroup.js';

it('gives what the statistics of each subgroup give', () => {
  fc.assert(fc.property(fc.integer({ min: 2, max: 7 }), fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 14, maxLength: 80 }), (size, numbers) => {
    const values = Float64Array.from(numbers.slice(0, numbers.length - (numbers.length % size)));
    const slow = Array.from({ length: values.length / size }, (_, i) => subgroupStatistics([...values.subarray(i * size, (i + 1) * size)]));
    const fast = subgroupPass(values, size);
    expect([...fast.means]).toEqual(slow.map((s) => s.mean));
    expect([...fast.ranges]).toEqual(slow.map((s) => s.range));
    expect(Math.abs(fast.grandMean - mean([...values]))).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(fast.grandMean)));
    expect(fast.rbar).toBeCloseTo(mean(fast.ranges), 6);
  }));
});

it('refuses readings that are no whole subgroups, and names a reading that is no number', () => {
  expect(() => subgroupPass(new Float64Array(7), 5)).toThrow('needs whole subgroups of 5, 7 readings given');
  expect(() => subgroupPass(new Float64Array(0), 5)).toThrow('0 readings given');
  expect(() => subgroupPass(new Float64Array(4), 1)).toThrow('whole subgroup size of 2 or more, 1 given');
  for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
    for (const size of [2, 3, 4, 5, 6]) {
      for (const place of [0, size - 1, size, 2 * size - 1]) {
        const values = new Float64Array(2 * size);
        values[place] = bad;
        expect(() => subgroupPass(values, size)).toThrow(`reading ${place + 1} of ${2 * size} is ${bad}`);
      }
    }
  }
});
