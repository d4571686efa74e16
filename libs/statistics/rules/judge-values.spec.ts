import fc from 'fast-check';
import { expect, it } from 'vitest';
import individuals from '../../../test/published/individuals.json' with { type: 'json' };
import { agreesExactly } from '../../../test/published/agrees.js';
import { evaluateRules } from './evaluate.js';
import { judgeValues } from './judge-values.js';
import { ALL_RULES, NELSON, WESTERN_ELECTRIC } from './run-rules.js';

it('the concentrations give no signal about their printed limits (Montgomery & Runger, table 16-3)', () => {
  const { firings } = judgeValues(individuals.chemical.values, 99.1, (105.99 - 99.1) / 3, WESTERN_ELECTRIC);
  agreesExactly({ method: 'zone tests', source: 'Montgomery & Runger, 3rd ed., table 16-3' }, firings, [], 'concentrations, printed limits');
});

const values = fc.array(fc.option(fc.integer({ min: -60, max: 60 }), { freq: 15 }), { maxLength: 60 });

it('takes one centre and sigma for all or one a value, and says what the rules say', () => {
  fc.assert(fc.property(values, (list) => {
    const z = list.map((value) => (value === null ? null : value / 16));
    expect(judgeValues(Object.freeze(z), 0, 1, ALL_RULES)).toEqual({ z, firings: evaluateRules(z, ALL_RULES) });
    const sigmas = list.map((_, i) => 2 ** (i % 4));
    const centres = list.map((_, i) => i * 8);
    const plotted = z.map((one, i) => (one === null ? null : (centres[i] ?? 0) + one * (sigmas[i] ?? 1)));
    expect(judgeValues(plotted, Object.freeze(centres), Object.freeze(sigmas), NELSON)).toEqual({ z, firings: evaluateRules(z, NELSON) });
  }));
});

it('no shift of 1e6 and no other unit changes a verdict', () => {
  fc.assert(fc.property(values, fc.constantFrom(0.5, 2, 0.25), (list, scale) => {
    const of = (move: (x: number) => number, sigma: number, centre: number) => judgeValues(list.map((x) => (x === null ? null : move(x))), centre, sigma, ALL_RULES).firings;
    const plain = of((x) => x, 16, 0);
    expect(of((x) => x + 1e6, 16, 1e6)).toEqual(plain);
    expect(of((x) => x * scale, 16 * scale, 0)).toEqual(plain);
  }));
});

it('says what it needs, and where', () => {
  expect(() => judgeValues([1, 2], [0], 1, NELSON)).toThrow('judgeValues: needs as many centre lines as values, 1 for 2 given');
  expect(() => judgeValues([1, 2], 0, [1, 1, 1], NELSON)).toThrow('as many sigmas as values, 3 for 2 given');
  expect(() => judgeValues([1, Number.NaN], 0, 1, NELSON)).toThrow('NaN, 0 and 1 given at point 2');
  for (const sigma of [0, -1, Number.POSITIVE_INFINITY]) expect(() => judgeValues([1], 0, sigma, NELSON)).toThrow('positive sigma');
  expect(() => judgeValues([1e308], -1e308, 1, NELSON)).toThrow('at point 1');
  expect(judgeValues([], 0, 1, NELSON)).toEqual({ z: [], firings: [] });
});
