import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { fractionNonconforming } from './fraction-nonconforming.js';

it('counts both sides; a value on a limit is inside', () => {
  const tightness = Object.freeze([100, 90, 85, 80, 70, 75, 100, 95, 60, 69.9]);
  const got = fractionNonconforming(tightness, 70, null);
  agreesExactly({ method: 'Fraction nonconforming', source: 'counted by hand' }, [got.n, got.below, got.above], [10, 2, null], 'tightness below 70 %');
  // Two of ten: 0.0252 to 0.5561 in the tables of Clopper & Pearson.
  agrees({ method: 'Fraction nonconforming, exact interval', source: 'R 4.2.2 binom.test(2, 10)' }, got.outside.low, 0.02521073, { abs: 5e-9 }, '2 of 10, low');
  agrees({ method: 'Fraction nonconforming, exact interval', source: 'R 4.2.2 binom.test(2, 10)' }, got.outside.high, 0.5560955, { abs: 5e-8 }, '2 of 10, high');
  agrees({ method: 'Fraction nonconforming, exact interval', source: 'R 4.2.2 binom.test(2, 10, alternative = "less")' }, got.ppm.upperBound, 506901.3, { abs: 0.05 }, '2 of 10, bound, ppm');
});

it('serves grades: one grade may be the only good one', () => {
  const got = fractionNonconforming([3, 3, 4, 2, 3], 3, 3);
  expect([got.below, got.above, got.outside.fraction]).toEqual([1, 1, 0.4]);
});

it('none found is not none there', () => {
  const got = fractionNonconforming(new Array<number>(59).fill(1), 0, 2);
  expect(got.outside.fraction).toBe(0);
  agrees({ method: 'Fraction nonconforming, exact interval', source: '1 - 0.05^(1/59), closed form' }, got.outside.upperBound, 1 - 0.05 ** (1 / 59), { rel: 1e-10 }, '0 of 59');
});

it('refuses no limit, none in order, and what is no number', () => {
  expect(() => fractionNonconforming([1], null, null)).toThrow('at least one specification limit, none given');
  expect(() => fractionNonconforming([1], 3, 2)).toThrow('3 and 2 given');
  expect(() => fractionNonconforming([], 1, 2)).toThrow('at least 1 value, 0 given');
  expect(() => fractionNonconforming([1, Number.NaN], 1, 2)).toThrow('value 2 of 2 is NaN');
  expect(() => fractionNonconforming([1], Number.NaN, 2)).toThrow('finite lower specification limit or none, NaN given');
  expect(() => fractionNonconforming([1], 0, 2, 1)).toThrow('confidence strictly between 0 and 1, 1 given');
});
