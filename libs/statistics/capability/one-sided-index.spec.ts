import { expect, it } from 'vitest';
import reference from '../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { locationIndexInterval } from './intervals.js';
import { oneSidedIndexInterval, oneSidedIndexLowerBound } from './one-sided-index.js';

it.each(reference.oneSided)('index $index of one side from $n readings, confidence $confidence (SciPy 1.17 nct)', ({ index, n, confidence, bounds }) => {
  const check = { method: 'Exact interval of a one-sided index', source: 'SciPy 1.17 nct.cdf, solved for the noncentrality' };
  const got = oneSidedIndexInterval(index, n, confidence);
  agrees(check, got.low, bounds[0] ?? Number.NaN, { rel: 1e-8 }, `${index}, n ${n}, low`);
  agrees(check, got.high, bounds[1] ?? Number.NaN, { rel: 1e-8 }, `${index}, n ${n}, high`);
  agrees(check, oneSidedIndexLowerBound(index, n, confidence), bounds[2] ?? Number.NaN, { rel: 1e-8 }, `${index}, n ${n}, bound`);
});

it('is near the normal approximation for many readings, and turns round with the sign', () => {
  const exact = oneSidedIndexInterval(1.33, 20_000);
  const near = locationIndexInterval(1.33, 20_000, 19_999);
  expectWithin(exact.low, near.low, { abs: 2e-4 }, 'low');
  expectWithin(exact.high, near.high, { abs: 2e-4 }, 'high');
  const mirrored = oneSidedIndexInterval(-0.8, 12);
  const plain = oneSidedIndexInterval(0.8, 12);
  expectWithin(mirrored.low, -plain.high, { rel: 1e-9 }, 'mirrored');
});

it('holds for two readings and for a very large index', () => {
  const two = oneSidedIndexInterval(1.5, 2);
  expect(two.low).toBeLessThan(0.2);
  expect(two.high).toBeGreaterThan(3);
  const large = oneSidedIndexInterval(100, 30);
  expectWithin(large.low, 74.5, { rel: 0.01 }, 'sd alone decides: 100 sqrt(chi-square(0.025; 29)/29)');
});

it('refuses what it cannot hold', () => {
  expect(() => oneSidedIndexInterval(1, 1)).toThrow('whole number of readings from 2 to 1000000, 1 given');
  expect(() => oneSidedIndexLowerBound(1, 20, 0)).toThrow('oneSidedIndexLowerBound: needs a confidence strictly between 0 and 1, 0 given');
  expect(() => oneSidedIndexInterval(1e308, 20)).toThrow('index from -100 to 100, 1e+308 given');
  expect(() => oneSidedIndexInterval(Number.NaN, 20)).toThrow('NaN given');
});
