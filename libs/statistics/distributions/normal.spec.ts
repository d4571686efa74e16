import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import published from '../../../test/published/distributions.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { logNormalUpperTail, normalCdf, normalQuantile, normalUpperTail } from './normal.js';

const check = { method: 'Normal distribution', source: 'mpmath, 40 digits' };

it('the upper tail holds twelve digits from the body to where numbers end (mpmath)', () => {
  for (const [z, expected] of published.normalUpperTail as [number, number][]) {
    agrees(check, normalUpperTail(z), expected, { rel: 1e-13 }, `upper tail at ${z}`);
    agrees(check, normalCdf(-z), expected, { rel: 1e-13 }, `cdf at ${-z}`);
  }
});

it('body and tail add up to one', () => {
  for (let z = -6; z <= 6; z += 0.01) expectWithin(normalCdf(z) + normalUpperTail(z), 1, { abs: 3e-16 }, `at ${z}`);
});

it('beyond 38.6 sigma the tail is 0, its logarithm is still a number', () => {
  expect(normalUpperTail(40)).toBe(0);
  expect(normalCdf(40)).toBe(1);
  expect(normalUpperTail(38)).toBeGreaterThan(0);
  for (const [z, expected] of published.logNormalUpperTail as [number, number][]) {
    agrees(check, logNormalUpperTail(z), expected, { rel: 1e-13 }, `log tail at ${z}`);
  }
});

it('the quantile holds fourteen digits (mpmath) and undoes the cdf', () => {
  for (const [p, expected] of published.normalQuantile as [number, number][]) {
    agrees(check, normalQuantile(p), expected, { rel: 1e-14 }, `quantile of ${p}`);
    agrees(check, normalCdf(normalQuantile(p)), p, { rel: 1e-13 }, `cdf of the quantile of ${p}`);
  }
  expect(normalQuantile(0.5)).toBe(0);
});

it('refuses what is no probability and no number', () => {
  for (const p of [-0.1, 0, 1, 1.1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(`normalQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  for (const f of [normalCdf, normalUpperTail, logNormalUpperTail]) expect(() => f(Number.NaN)).toThrow(`${f.name}: needs a number of sigmas`);
});
