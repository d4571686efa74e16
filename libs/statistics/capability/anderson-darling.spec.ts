import fc from 'fast-check';
import { expect, it } from 'vitest';
import published from '../../../test/published/heat-flow-meter.json' with { type: 'json' };
import individuals from '../../../test/published/individuals.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { logNormalUpperTail, normalQuantile } from '../distributions/normal.js';
import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { andersonDarling, normalJudgement } from './anderson-darling.js';

it('heat flow meter factors (NIST/SEMATECH e-Handbook 1.4.2.8)', () => {
  const { values, expected, tolerance, pTolerance } = published;
  const got = andersonDarling(Object.freeze([...values]));
  const check = { method: 'Anderson-Darling, normal', source: 'NIST/SEMATECH e-Handbook 1.4.2.8 (ZARR13), recomputed with SciPy and R' };
  agrees({ ...check, method: 'Mean' }, mean(values), expected.mean, tolerance, 'heat flow meter');
  agrees({ ...check, method: 'Standard deviation' }, standardDeviation(values), expected.sd, tolerance, 'heat flow meter');
  agrees(check, got.a2, expected.a2, tolerance, 'A2');
  agrees(check, got.a2Star, expected.a2Star, tolerance, 'A2*');
  agrees({ ...check, method: 'p of Anderson-Darling, normal' }, got.p, expected.p, pTolerance, 'p');
  expect(got.n).toBe(195);
  // The figure in the handbook is the older adjustment of the same statistic.
  agrees({ method: 'Anderson-Darling, normal', source: 'NIST/SEMATECH e-Handbook 1.4.2.8, print' }, got.a2 * (1 + 4 / got.n - 25 / got.n ** 2), 0.129, { abs: 5e-4 }, 'printed, adjusted as in 1974');
  expectWithin(got.a2 * (1 + 4 / got.n - 25 / got.n ** 2), expected.stephens1974, { rel: 1e-5 }, 'adjusted as in 1974');
});

it('concentrations (Montgomery & Runger, table 16-3)', () => {
  const got = andersonDarling(Object.freeze([...individuals.chemical.values]));
  const check = { method: 'Anderson-Darling, normal', source: 'Montgomery & Runger, table 16-3, computed with SciPy and R' };
  agrees(check, got.a2, published.chemical.a2, published.tolerance, 'A2');
  agrees(check, got.a2Star, published.chemical.a2Star, published.tolerance, 'A2*');
  agrees({ ...check, method: 'p of Anderson-Darling, normal' }, got.p, published.chemical.p, published.pTolerance, 'p');
});

it('p at the critical values in print, mean and sd estimated', () => {
  for (const [critical, p] of [[0.631, 0.1], [0.752, 0.05], [0.873, 0.025], [1.035, 0.01], [1.159, 0.005]] as const) {
    const got = normalJudgement(critical / (1 + 0.75 / 40 + 2.25 / 1600), 40);
    agrees({ method: 'p of Anderson-Darling, normal', source: "D'Agostino & Stephens 1986, table 4.7 (from memory)" }, got.p, p, { rel: 0.03 }, `A2* ${critical}`);
  }
});

it('a million values keep their digits: 500 scores, each 2000 times, against the sum over the ties', () => {
  const scores = Array.from({ length: 500 }, (_, i) => normalQuantile((i + 0.5) / 500) + 0.02 * Math.sin(i)).sort((a, b) => a - b);
  const n = 1_000_000;
  const many = Float64Array.from({ length: n }, (_, i) => scores[i % 500] as number);
  const centre = mean(scores);
  const sd = standardDeviation(scores) * Math.sqrt((499 / 500) * (n / (n - 1)));
  // A tie holds the places 2000 k to 2000 k + 1999; the weights 2i+1 and 2(n-i)-1 over them are whole numbers, and n^2/500 is its part of n^2.
  const byTies = scores.reduce((sum, score, k) => {
    const z = (score - centre) / sd;
    return sum + 2000 * (4000 * k + 2000) * logNormalUpperTail(-z) + 2000 * (2 * n - 4000 * k - 2000) * logNormalUpperTail(z) + (n * n) / 500;
  }, 0);
  expectWithin(andersonDarling(many).a2, -byTies / n, { abs: 1e-8 }, 'A2');
});

it('shift, scale and mirror leave the statistic alone', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 8, maxLength: 60 }), fc.constantFrom(2, -1, 0.0254), fc.integer({ min: -100, max: 100 }), (values, a, b) => {
    fc.pre(new Set(values).size > 1);
    const plain = andersonDarling(Object.freeze(values));
    const moved = andersonDarling(Object.freeze(values.map((value) => a * value + b)));
    expectWithin(moved.a2, plain.a2, { rel: 1e-8, abs: 1e-8 }, 'A2');
    expectWithin(moved.p, plain.p, { rel: 1e-6, abs: 1e-8 }, 'p');
    expect(plain.p).toBeGreaterThan(0);
    expect(plain.p).toBeLessThanOrEqual(1);
  }));
});

it('the pieces of the p formula meet within their fit', () => {
  const quantiles = Array.from({ length: 50 }, (_, i) => normalQuantile((i + 0.5) / 50));
  const pAt = (bend: number) => andersonDarling(quantiles.map((z) => z + bend * z * z));
  let before = pAt(0);
  expect(before.p).toBeGreaterThan(0.99);
  for (let bend = 0.002; bend < 1; bend += 0.002) {
    const now = pAt(bend);
    expect(now.a2Star).toBeGreaterThan(before.a2Star);
    expect(now.p).toBeLessThanOrEqual(before.p + 0.002);
    before = now;
  }
  expect(before.pIsUpperBound).toBe(true);
});

it('far from normal the p is only known to be below one in a million', () => {
  const wild = Object.freeze([...Array<number>(3000).fill(0), 1]);
  expect(andersonDarling(wild)).toMatchObject({ p: 1e-6, pIsUpperBound: true });
  expect(Number.isFinite(andersonDarling(wild).a2)).toBe(true);
});

it('refuses too few values and values that do not vary', () => {
  expect(() => andersonDarling([1, 2, 3, 4, 5, 6, 7])).toThrow(new RangeError('andersonDarling: needs at least 8 values, 7 given'));
  expect(() => andersonDarling(Array<number>(9).fill(0.3))).toThrow('do not vary at the resolution of the gauge');
  expect(() => andersonDarling([1, 2, 3, 4, 5, 6, 7, Number.NaN])).toThrow('value 8 of 8 is NaN');
});
