import { expect, it } from 'vitest';
import published from '../../../test/published/mean-range-freedom.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { chartConstants } from '../charts/constants.js';
import { withinFreedom } from './within-freedom.js';

const subgroups = (k: number, n: number): readonly number[] => Object.freeze(Array.from({ length: k }, () => n));

it.each(published.rows)('mean range of $k subgroups of $n (Patnaik 1950; Duncan)', ({ n, k, nu, d2Star }) => {
  agrees({ method: 'Degrees of freedom of the mean range', source: 'Patnaik 1950; Duncan (from memory)' }, withinFreedom('xbar-r', subgroups(k, n)), nu, published.tolerance, `${k} subgroups of ${n}`);
  const { d2, d3 } = chartConstants(n);
  if (d2Star !== undefined) agrees({ method: 'd2*', source: 'Duncan (from memory)' }, Math.sqrt(d2 * d2 + (d3 * d3) / k), d2Star, published.d2StarTolerance, `${k} subgroups of ${n}`);
});

it('grows by a constant amount a subgroup', () => {
  const { n, nuASubgroup } = published.increment;
  agrees({ method: 'Degrees of freedom of the mean range', source: 'Duncan, increment a subgroup (from memory)' }, withinFreedom('xbar-r', subgroups(30, n)) - withinFreedom('xbar-r', subgroups(29, n)), nuASubgroup, { abs: 0.01 }, 'increment');
});

it('one range of two readings has exactly one degree of freedom, one sd of n readings n-1', () => {
  expectWithin(withinFreedom('xbar-r', [2]), 1, { rel: 1e-10 }, 'range');
  for (const n of [2, 3, 10, 25]) expectWithin(withinFreedom('xbar-s', [n]), n - 1, { rel: 1e-9 }, `sd of ${n}`);
});

it('the pooled sd of unequal subgroups has the sum of theirs', () => {
  expect(withinFreedom('xbar-s', [3, 5, 2])).toBe(7);
});

it('moving ranges overlap: far fewer degrees of freedom than ranges (relative variance 0.826/m, Hoel 1946)', () => {
  const m = 2000;
  agrees({ method: 'Degrees of freedom of the moving range', source: 'Hoel 1946 (from memory)' }, 1 / (2 * withinFreedom('i-mr', [m + 1])), 0.8264 / m, { rel: 1e-3 }, 'relative variance');
  expectWithin(withinFreedom('i-mr', [2]), 1, { rel: 1e-10 }, 'a single moving range');
});

it('a series in two stretches loses the range across the gap', () => {
  expect(withinFreedom('i-mr', [10, 10])).toBeLessThan(withinFreedom('i-mr', [20]));
});

it('agrees with the scatter of moving-range sigmas of made-up series', () => {
  // 4000 series of 12 individuals from a fixed sequence (Park & Miller 1988), Box-Muller; the sd of sd^2 of 4000 is 2 %.
  let state = 987_654_321;
  const uniform = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const estimates = Array.from({ length: 4000 }, () => {
    const x = Array.from({ length: 12 }, normal);
    return x.slice(1).reduce((sum, value, i) => sum + Math.abs(value - (x[i] ?? Number.NaN)), 0) / 11;
  });
  const centre = estimates.reduce((a, b) => a + b) / 4000;
  const variance = estimates.reduce((a, b) => a + (b - centre) ** 2, 0) / 3999 / centre ** 2;
  const c4 = chartConstants(Math.round(withinFreedom('i-mr', [12])) + 1).c4;
  expectWithin(variance, 1 / c4 ** 2 - 1, { rel: 0.1 }, 'relative variance');
});

it('refuses nothing to estimate from', () => {
  expect(() => withinFreedom('xbar-r', [])).toThrow('needs at least 1 subgroup, 0 given');
});
