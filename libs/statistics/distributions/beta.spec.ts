import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import published from '../../../test/published/exact-fraction.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { betaQuantile, regularisedBeta } from './beta.js';

const check = { method: 'Beta distribution', source: 'mpmath, 40 digits' };

it('the incomplete beta holds eleven digits against binomial sums (mpmath), nine where the shapes reach 100,000', () => {
  for (const [x, a, b, expected] of published.regularisedBeta as [number, number, number, number][]) {
    agrees(check, regularisedBeta(x, a, b), expected, { rel: a + b < 1000 ? 1e-11 : 1e-9 }, `I_${x}(${a}, ${b})`);
  }
});

it('the arcsine law, which has a closed form (Abramowitz & Stegun 1964, 26.5.3 with a = b = 1/2)', () => {
  for (const x of [1e-9, 0.01, 0.3, 0.5, 0.8, 0.999]) expectWithin(regularisedBeta(x, 0.5, 0.5), (2 / Math.PI) * Math.asin(Math.sqrt(x)), { rel: 1e-13 }, `x ${x}`);
});

it('both sides add up to one, and the ends are 0 and 1', () => {
  for (const x of [0.01, 0.2, 0.5, 0.77]) expectWithin(regularisedBeta(x, 4, 9) + regularisedBeta(1 - x, 9, 4), 1, { abs: 1e-13 }, `x ${x}`);
  expect([regularisedBeta(0, 3, 2), regularisedBeta(1, 3, 2)]).toEqual([0, 1]);
});

it('the quantile holds nine digits and more (mpmath) and undoes the distribution far out', () => {
  for (const [p, a, b, expected] of published.betaQuantile as [number, number, number, number][]) {
    agrees(check, betaQuantile(p, a, b), expected, { rel: a + b < 1000 ? 1e-11 : 1e-9 }, `quantile ${p} of (${a}, ${b})`);
  }
  expectWithin(regularisedBeta(betaQuantile(1e-12, 0.5, 40), 0.5, 40), 1e-12, { rel: 1e-9 }, 'far lower tail');
});

it('refuses what is no shape, no value, no probability', () => {
  for (const shape of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(() => regularisedBeta(0.5, shape, 1)).toThrow('needs positive shapes');
  for (const x of [-0.1, 1.1, Number.NaN]) expect(() => regularisedBeta(x, 1, 1)).toThrow(`needs a value from 0 to 1, ${x} given`);
  for (const p of [0, 1, Number.NaN]) expect(() => betaQuantile(p, 1, 1)).toThrow(`strictly between 0 and 1, ${p} given`);
});
