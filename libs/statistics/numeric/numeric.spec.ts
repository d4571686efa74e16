import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { gaussLegendre } from './gauss-legendre.js';
import { mean } from './mean.js';
import { range } from './range.js';
import { standardDeviation } from './standard-deviation.js';

it('gives a plain value for values that are all alike, not its rounding', () => {
  const alike = Object.freeze([0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1]);
  expect(mean(alike)).toBe(0.1);
  expect(standardDeviation(alike)).toBe(0);
  expect(range(alike)).toBe(0);
});

it('takes typed arrays as well', () => {
  const values = Float64Array.of(3, 1, 2);
  expect([mean(values), standardDeviation(values), range(values)]).toEqual([2, 1, 2]);
});

it('a mean is within its values, also where their differences or their sum are beyond the range of numbers', () => {
  expect(mean([1e308, -1e308])).toBe(0);
  expectWithin(mean([0, ...Array.from({ length: 9 }, () => 1.5e308)]), 1.35e308, { rel: 1e-15 }, 'sum beyond');
  expect(() => standardDeviation([1e308, -1e308], 'caller')).toThrow('caller: needs values whose squared differences stay within the range of numbers');
  expect(() => range([1e308, -1e308])).toThrow('range: needs values whose difference is within the range of numbers');
});

it.each([
  ['mean', mean, 1], ['standardDeviation', standardDeviation, 2], ['range', range, 1],
] as const)('%s refuses too few values and says how many it needs', (name, statistic, least) => {
  const few = Object.freeze(Array.from({ length: least - 1 }, () => 5));
  expect(() => statistic(few)).toThrow(new RangeError(`${name}: needs at least ${least} ${least === 1 ? 'value' : 'values'}, ${least - 1} given`));
});

it.each([mean, standardDeviation, range])('%o refuses NaN and the infinities and names the place', (statistic) => {
  for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
    expect(() => statistic(Object.freeze([1, 2, bad]))).toThrow(`${statistic.name}: value 3 of 3 is ${bad}`);
  }
});

it('adding a million to every value changes no sd in the eighth digit', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: -5000, max: 5000 }), { minLength: 2, maxLength: 40 }), (steps) => {
    const values = Object.freeze(steps.map((step) => step / 1000));
    const shifted = Object.freeze(values.map((value) => value + 1e6));
    expectWithin(standardDeviation(shifted), standardDeviation(values), { rel: 1e-8, abs: 1e-9 }, 'sd');
    expectWithin(range(shifted), range(values), { abs: 1e-9 }, 'range');
    expectWithin(mean(shifted) - 1e6, mean(values), { abs: 1e-9 }, 'mean');
  }));
});

it('the nodes integrate every power up to twice their number exactly (Abramowitz & Stegun 25.4.29)', () => {
  for (const n of [1, 2, 5, 20, 80]) {
    const { nodes, weights } = gaussLegendre(n);
    for (const power of [0, 1, 2, 3, 2 * n - 1, 2 * n - 2]) {
      if (power > 2 * n - 1) continue;
      const sum = nodes.reduce((total, node, i) => total + (weights[i] ?? Number.NaN) * node ** power, 0);
      agrees({ method: 'Gauss-Legendre rule', source: 'Abramowitz & Stegun 1964, 25.4.29' }, sum, power % 2 === 1 ? 0 : 2 / (power + 1), { abs: 1e-13 }, `n ${n}, power ${power}`);
    }
  }
  expect(() => gaussLegendre(0)).toThrow('whole number of nodes from 1 to 500, 0 given');
});
