import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import published from '../../../test/published/distributions.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { chiSquareCdf, chiSquareQuantile, logGamma, regularisedGammaLower, regularisedGammaUpper } from './gamma.js';

const check = { method: 'Gamma distribution', source: 'mpmath, 40 digits' };

it('log-gamma agrees with mpmath', () => {
  for (const [x, expected] of published.logGamma as [number, number][]) agrees(check, logGamma(x), expected, { rel: 1e-14, abs: 1e-14 }, `at ${x}`);
});

it('both incomplete gammas hold twelve digits, each on its small side (mpmath)', () => {
  for (const [a, x, lower, upper] of published.regularisedGamma as [number, number, number, number][]) {
    agrees(check, regularisedGammaLower(a, x), lower, { rel: 1e-12 }, `lower ${a}, ${x}`);
    agrees(check, regularisedGammaUpper(a, x), upper, { rel: 1e-12 }, `upper ${a}, ${x}`);
  }
  expect([regularisedGammaLower(2, 0), regularisedGammaUpper(2, 0)]).toEqual([0, 1]);
});

it('the chi-square quantile holds eleven digits, also for fractional degrees of freedom (mpmath)', () => {
  for (const [p, nu, expected] of published.chiSquareQuantile as [number, number, number][]) {
    agrees(check, chiSquareQuantile(p, nu), expected, { rel: 1e-11 }, `${p} of ${nu}`);
    agrees(check, chiSquareCdf(chiSquareQuantile(p, nu), nu), p, { rel: 1e-11 }, `cdf of ${p} of ${nu}`);
  }
});

it('with two degrees of freedom the quantile is -2 ln(1-p), far into both tails', () => {
  for (const p of [1e-12, 1e-6, 0.3, 0.999999]) expectWithin(chiSquareQuantile(p, 2), -2 * Math.log1p(-p), { rel: 1e-10 }, `p ${p}`);
});

it('refuses arguments the functions do not have', () => {
  expect(() => logGamma(0)).toThrow('logGamma: needs a positive finite number, 0 given');
  expect(() => regularisedGammaLower(0, 1)).toThrow('needs a positive shape up to 1000000000, 0 given');
  expect(() => regularisedGammaUpper(1, Number.NaN)).toThrow('needs a finite value of 0 or more, NaN given');
  for (const p of [0, 1, Number.NaN]) expect(() => chiSquareQuantile(p, 3)).toThrow(`strictly between 0 and 1, ${p} given`);
  expect(() => chiSquareQuantile(0.5, -1)).toThrow('positive degrees of freedom up to 2000000000, -1 given');
});
