import fc from 'fast-check';
import { expect, it } from 'vitest';
import published from '../../../test/published/exact-fraction.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { exactFraction } from './exact-fraction.js';
import { upperBoundZeroFound } from './zero-found.js';

/** P(X <= found) of n draws, term by term: the slow twin that the bounds are defined by. */
function atMost(found: number, n: number, share: number): number {
  // Counted from the other end where most have the property: there the first term would underflow.
  if (share > 0.5) return found === n ? 1 : 1 - atMost(n - found - 1, n, 1 - share);
  let term = (1 - share) ** n;
  let sum = 0;
  for (let j = 0; j <= found; j += 1) {
    sum += term;
    term *= ((n - j) / (j + 1)) * (share / (1 - share));
  }
  return sum;
}

it('the intervals that Newcombe 1998 prints for Clopper-Pearson, to four decimals', () => {
  for (const [found, n, low, high] of published.newcombe.cases as [number, number, number, number][]) {
    const got = exactFraction(found, n);
    agrees({ method: 'Exact share', source: 'Newcombe 1998, Statistics in Medicine 17' }, got.low, low, { abs: 5.1e-5 }, `${found}/${n} low`);
    agrees({ method: 'Exact share', source: 'Newcombe 1998, Statistics in Medicine 17' }, got.high, high, { abs: 5.1e-5 }, `${found}/${n} high`);
  }
});

it('a share at the bound gives exactly the risk that was allowed (the definition of Clopper & Pearson 1934)', () => {
  fc.assert(fc.property(fc.integer({ min: 2, max: 300 }), fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0.8, 0.9, 0.95, 0.99), (n, part, confidence) => {
    const found = Math.min(n - 1, Math.floor(part * n));
    const got = exactFraction(found, n, confidence);
    expectWithin(atMost(found, n, got.upperBound), 1 - confidence, { rel: 1e-8, abs: 1e-13 }, 'upper bound');
    expectWithin(atMost(found, n, got.high), (1 - confidence) / 2, { rel: 1e-8, abs: 1e-13 }, 'high');
    if (found > 0) expectWithin(1 - atMost(found - 1, n, got.low), (1 - confidence) / 2, { rel: 1e-8, abs: 1e-13 }, 'low');
    expect(got.low).toBeLessThanOrEqual(got.fraction);
    expect(got.upperBound).toBeGreaterThan(got.fraction);
  }), { numRuns: 200 });
});

it('none found says no more than the bound of a clean sample; all found cannot be bounded below 1', () => {
  for (const n of [1, 20, 59, 299, 10_000]) expectWithin(exactFraction(0, n).upperBound, upperBoundZeroFound(n), { rel: 1e-10 }, `n ${n}`);
  expect(exactFraction(0, 20).low).toBe(0);
  expect(exactFraction(7, 7)).toMatchObject({ fraction: 1, high: 1, upperBound: 1 });
  expectWithin(exactFraction(7, 7).low, 0.025 ** (1 / 7), { rel: 1e-12 }, 'low of all found');
});

it('refuses counts that do not fit', () => {
  for (const n of [0, -1, 2.5, Number.NaN]) expect(() => exactFraction(0, n)).toThrow(`whole number of units, 1 or more, ${n} given`);
  for (const found of [-1, 11, 0.5, Number.NaN]) expect(() => exactFraction(found, 10)).toThrow(`0 to 10, ${found} given`);
  for (const confidence of [0, 1, Number.NaN]) expect(() => exactFraction(1, 10, confidence)).toThrow(`strictly between 0 and 1, ${confidence} given`);
});
