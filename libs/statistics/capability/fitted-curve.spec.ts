import { expect, it } from 'vitest';
import { expectWithin } from '../../../test/published/within.js';
import { fittedCurve } from './fitted-curve.js';

it('holds as many values as the histogram has (trapezoid rule; 0.006 % of a normal lie beyond four sigma)', () => {
  const { x, count } = fittedCurve(1.75, 0.03, 200, 0.01, 401);
  const step = (x[1] as number) - (x[0] as number);
  expectWithin(count.reduce((sum, value) => sum + value, 0) * (step / 0.01), 200 * 0.99993666, { rel: 1e-5 }, 'area');
});

it('peaks at the mean with n width / (sigma sqrt(2 pi)), and reaches four sigma to both sides', () => {
  const { x, count } = fittedCurve(-2, 0.5, 100, 0.1);
  expect([x.length, count.length, x[0], x[80]]).toEqual([81, 81, -4, 0]);
  expectWithin(count[40], (100 * 0.1) / (0.5 * Math.sqrt(2 * Math.PI)), { rel: 1e-12 }, 'peak');
  for (const i of [0, 13, 39]) expectWithin(count[i], count[80 - i] as number, { rel: 1e-9 }, `symmetry at ${i}`);
});

it('refuses a curve of nothing', () => {
  expect(() => fittedCurve(1, 0, 10, 0.1)).toThrow('needs a positive sigma, 0 given');
  expect(() => fittedCurve(1, 1, 0, 0.1)).toThrow('needs a positive number of values, 0 given');
  expect(() => fittedCurve(1, 1, 10, Number.NaN)).toThrow('needs a positive bin width, NaN given');
  expect(() => fittedCurve(Number.NaN, 1, 10, 1)).toThrow('needs a finite mean, NaN given');
  expect(() => fittedCurve(1, 1, 10, 1, 1)).toThrow('from 2 to 10000, 1 given');
});
