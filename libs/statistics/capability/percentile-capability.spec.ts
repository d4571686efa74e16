import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { fittedQuantile, type Parameters } from './fits/family.js';
import { percentileCapability, REFERENCE_SHARE } from './percentile-capability.js';

const pointsOf = (fit: Parameters) => ({ low: fittedQuantile(fit, REFERENCE_SHARE), middle: fittedQuantile(fit, 0.5), high: fittedQuantile(fit, 1 - REFERENCE_SHARE) });
const lognormal: Parameters = { family: 'lognormal', threshold: 0, mu: 0, sigma: 0.5 };

it('lognormal with mu 0 and sigma 0.5, limits 0.1 and 6', () => {
  const check = { method: 'Percentile capability', source: 'SciPy 1.17 lognorm.ppf and the formulas of ISO/TR 22514-4' };
  const points = pointsOf(lognormal);
  agrees(check, points.low, 0.2231327, { rel: 1e-6 }, 'x0.135');
  agrees(check, points.middle, 1, { rel: 1e-12 }, 'x50');
  agrees(check, points.high, 4.4816375, { rel: 1e-6 }, 'x99.865');
  const got = percentileCapability(points, 0.1, 6);
  agrees(check, got.ppu, 1.436106, { rel: 1e-6 }, 'Ppu');
  agrees(check, got.ppl, 1.158499, { rel: 1e-6 }, 'Ppl');
  agrees(check, got.pp, 1.385463, { rel: 1e-6 }, 'Pp');
  agrees(check, got.ppk, 1.158499, { rel: 1e-6 }, 'Ppk');
});

it('one limit leaves the two-sided index undefined', () => {
  const upper = percentileCapability(pointsOf(lognormal), null, 6);
  agreesExactly({ method: 'Percentile capability', source: 'one-sided: Ppk is the existing side' }, [upper.pp, upper.ppl, upper.ppk === upper.ppu], [null, null, true], 'upper limit only');
  const lower = percentileCapability(pointsOf(lognormal), 0.1, null);
  expect([lower.pp, lower.ppu, lower.ppk]).toEqual([null, null, lower.ppl]);
});

it('a mirror swaps the sides, a median outside makes the index negative', () => {
  const { low, middle, high } = pointsOf(lognormal);
  const got = percentileCapability({ low: -high, middle: -middle, high: -low }, -6, -0.1);
  const plain = percentileCapability({ low, middle, high }, 0.1, 6);
  expect([got.ppl, got.ppu, got.pp]).toEqual([plain.ppu, plain.ppl, plain.pp]);
  expect(percentileCapability({ low, middle, high }, 2, 6).ppk).toBeLessThan(0);
});

it('refuses points that do not rise and limits that are none', () => {
  expect(() => percentileCapability({ low: 1, middle: 1, high: 2 }, 0, 3)).toThrow('three rising finite points, 1, 1, 2 given');
  expect(() => percentileCapability({ low: 1, middle: 2, high: 3 }, null, null)).toThrow('at least one specification limit');
  expect(() => percentileCapability({ low: 1, middle: 2, high: 3 }, 3, 3)).toThrow('3 and 3 given');
  expect(() => percentileCapability({ low: 1, middle: 2, high: 3 }, Number.NaN, 3)).toThrow('finite lower specification limit or none, NaN given');
  expect(() => percentileCapability({ low: 1, middle: 2, high: 3 }, -1e308, 1e308)).toThrow('beyond the range of numbers');
});
