import { expect, it } from 'vitest';
import flowWidth from '../../../../test/published/flow-width.json' with { type: 'json' };
import reference from '../../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees, agreesExactly } from '../../../../test/published/agrees.js';
import { expectWithin } from '../../../../test/published/within.js';
import { chooseDistribution, type ChoiceInput } from './choose.js';

const valuesOf = (name: string): readonly number[] => Object.freeze([...(reference.sets.find((set) => set.name === name)?.values ?? [])]);
const choose = (name: string, more: Partial<ChoiceInput> = {}) => chooseDistribution(Object.freeze({ values: valuesOf(name), lsl: null, usl: null, ...more }));

it('chooses the likeliest family that is not refused, and says which others would do', () => {
  const check = { method: 'Choice by smallest AIC', source: 'log-likelihoods by SciPy 1.17' };
  const bearings = choose('ball bearings');
  agreesExactly(check, [bearings.chosen, bearings.notToldApart], ['gamma', ['lognormal', 'weibull']], 'ball bearings');
  agreesExactly(check, choose('flood').chosen, 'lognormal', 'flood levels');
  agreesExactly(check, choose('air conditioning').chosen, 'lognormal', 'air conditioning');
  expect(choose('air conditioning').candidates.find(({ family }) => family === 'normal')?.accepted).toBe(false);
  agreesExactly(check, choose('heat flow meter').chosen, 'normal', 'heat flow meter');
  const aic = bearings.candidates.find(({ family }) => family === 'weibull')?.aicAboveBest;
  agrees({ ...check, method: 'AIC difference' }, aic, 2 * (113.6911 - 113.0292), { abs: 1e-3 }, 'weibull to gamma');
});

it('refuses to choose when none fits, and shows all of them nevertheless', () => {
  // The fibres have a lower tail that none of the four can follow.
  const got = choose('fibres', { lsl: 0.5, usl: 2.5 });
  agreesExactly({ method: 'Choice by smallest AIC', source: 'Smith & Naylor 1987; Anderson-Darling by SciPy 1.17 beyond 5 % for all' }, [got.chosen, got.refusal, got.notToldApart], [null, 'none-fits', []], 'glass fibres');
  expect(got.candidates.map(({ indices, goodness }) => [indices?.ppk === undefined, (goodness?.p ?? 1) < 0.05])).toEqual(Array(4).fill([false, true]));
  expect(choose('fibres', { level: 0.0001 }).chosen).toBe('weibull');
});

it('under eight values nothing is tested and so nothing is chosen', () => {
  const got = chooseDistribution({ values: Object.freeze([1, 2, 3, 4.5, 5, 6, 8]), lsl: 0, usl: 10 });
  expect([got.chosen, got.refusal]).toEqual([null, 'too-few-values']);
  expect(got.candidates.every(({ goodness, indices }) => goodness === null && indices !== null)).toBe(true);
});

it('a normal fit gives the overall indices with the divisor n (Montgomery, table 6.1)', () => {
  const values = Object.freeze(flowWidth.subgroups.flat());
  const { candidates } = chooseDistribution({ values, lsl: flowWidth.specification.lsl, usl: flowWidth.specification.usl, families: ['normal'] });
  const [normal] = candidates;
  // sd n instead of n-1, and 0.135 % is 2.999977 sigma.
  const factor = Math.sqrt(125 / 124) * (3 / 2.9999770);
  agrees({ method: 'Percentile capability', source: 'Montgomery, table 6.1; overall sd by NumPy' }, normal?.indices?.pp, flowWidth.capability.pp * factor, { rel: 2e-6 }, 'Pp');
  agrees({ method: 'Percentile capability', source: 'Montgomery, table 6.1; overall sd by NumPy' }, normal?.indices?.ppk, flowWidth.capability.ppk * factor, { rel: 2e-6 }, 'Ppk');
});

it('skips what cannot be fitted, and says why', () => {
  const shifted = chooseDistribution({ values: Object.freeze([-1, 0, 1, 2, 3, 1, 0, 1.5, 0.4]), lsl: -5, usl: 5 });
  expect(shifted.candidates.map(({ family, gap }) => [family, gap])).toEqual([['normal', null], ['lognormal', 'not-above-threshold'], ['weibull', 'not-above-threshold'], ['gamma', 'not-above-threshold']]);
  expect(shifted.chosen).toBe('normal');
  const offset = chooseDistribution({ values: valuesOf('heat flow meter').map((value) => value + 1e6), lsl: null, usl: null });
  expect(offset.candidates.find(({ family }) => family === 'gamma')?.gap).toBe('as-normal');
  expect(offset.candidates[0]?.indices).toBeNull();
});

it('unit changes nothing but the unit', () => {
  const plain = choose('ball bearings', { lsl: 10, usl: 300 });
  const scaled = choose('ball bearings', { values: valuesOf('ball bearings').map((value) => value * 25.4), lsl: 254, usl: 7620 });
  expect(scaled.chosen).toBe(plain.chosen);
  plain.candidates.forEach((candidate, i) => {
    expectWithin(scaled.candidates[i]?.indices?.ppk, candidate.indices?.ppk ?? Number.NaN, { rel: 1e-8 }, 'Ppk');
    expectWithin(scaled.candidates[i]?.goodness?.p, candidate.goodness?.p ?? Number.NaN, { rel: 1e-6 }, 'p');
  });
});

it('refuses scales without an index, and bad settings', () => {
  expect(() => choose('flood', { scale: 'bounded' })).toThrow('chooseDistribution: needs a characteristic on an open scale, a bounded one');
  expect(() => choose('flood', { scale: 'ordinal' })).toThrow('an ordinal one');
  expect(() => choose('flood', { level: 1 })).toThrow('level strictly between 0 and 1, 1 given');
  expect(() => choose('flood', { families: [] })).toThrow('at least one family, none given');
  expect(() => choose('flood', { lsl: 2, usl: 1 })).toThrow('2 and 1 given');
  expect(() => choose('flood', { threshold: Number.NaN })).toThrow('finite threshold, NaN given');
});
