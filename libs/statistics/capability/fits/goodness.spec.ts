import { expect, it } from 'vitest';
import reference from '../../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees } from '../../../../test/published/agrees.js';
import { expectWithin } from '../../../../test/published/within.js';
import { andersonDarling } from '../anderson-darling.js';
import { fitGamma } from './fit-gamma.js';
import { fitLognormal } from './fit-lognormal.js';
import { fitNormal } from './fit-normal.js';
import { fitWeibull } from './fit-weibull.js';
import { goodnessOfFit } from './goodness.js';

const valuesOf = (name: string): readonly number[] => Object.freeze([...(reference.sets.find((set) => set.name === name)?.values ?? [])]);

/** Values at the middle of equal shares of a Weibull or gamma, moved in one end until A2 is the one asked for. */
function withStatistic(values: readonly number[], wanted: number, a2Of: (moved: readonly number[]) => number): readonly number[] {
  let [low, high] = [0, 4];
  const at = (bend: number) => Object.freeze(values.map((value) => value * Math.exp(bend * Math.abs(Math.log(value) - 1))));
  for (let turn = 0; turn < 60; turn += 1) {
    const middle = (low + high) / 2;
    if (a2Of(at(middle)) < wanted) low = middle;
    else high = middle;
  }
  return at(low);
}
const shares = Array.from({ length: 400 }, (_, i) => (i + 0.5) / 400);

it('p of a Weibull at the critical values in print', () => {
  const check = { method: 'p of Anderson-Darling, weibull', source: "D'Agostino & Stephens 1986, table 4.17, case 3 (from memory)" };
  const quantiles = shares.map((p) => 10 * (-Math.log1p(-p)) ** 0.5);
  const test = (moved: readonly number[]) => goodnessOfFit(moved, fitWeibull(moved));
  for (const [critical, p] of [[0.474, 0.25], [0.637, 0.1], [0.757, 0.05], [0.877, 0.025], [1.038, 0.01]] as const) {
    // The table is for A2 (1 + 0.2/sqrt(n)).
    const wanted = critical / (1 + 0.2 / Math.sqrt(400));
    const moved = withStatistic(quantiles, wanted, (values) => test(values)?.a2 ?? Number.NaN);
    expectWithin(test(moved)?.a2, wanted, { rel: 1e-6 }, 'statistic reached');
    agrees(check, test(moved)?.p, p, { rel: 0.08 }, `A2* ${critical}`);
  }
});

it('p of a gamma at the critical values in print, for its shape', () => {
  const source = "D'Agostino & Stephens 1986, table 4.21 (from memory; simulated anew)";
  // Shape 1 within a few hundredths: the middle of equal shares of an exponential.
  const quantiles = shares.map((p) => 10 * -Math.log1p(-p));
  const test = (moved: readonly number[]) => goodnessOfFit(moved, fitGamma(moved));
  for (const [critical, p] of [[0.486, 0.25], [0.657, 0.1], [0.786, 0.05], [0.917, 0.025], [1.092, 0.01]] as const) {
    const moved = withStatistic(quantiles, critical, (values) => test(values)?.a2 ?? Number.NaN);
    expectWithin(test(moved)?.a2, critical, { rel: 1e-6 }, 'statistic reached');
    agrees({ method: 'p of Anderson-Darling, gamma', source }, test(moved)?.p, p, { rel: 0.1 }, `A2 ${critical}`);
  }
});

it('many values: the table of gamma tails gives what every tail for itself gives', () => {
  let state = 99;
  const uniform = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  // Sum of three exponentials: gamma of shape 3. Above 4000 values the tails come from a table, below from the series.
  const values = Object.freeze(Array.from({ length: 3999 }, () => -Math.log(uniform() * uniform() * uniform())));
  const doubled = Object.freeze([...values, ...values]);
  const one = goodnessOfFit(values, fitGamma(values));
  const two = goodnessOfFit(doubled, fitGamma(doubled));
  expect(one?.p).toBeGreaterThan(0.01);
  // A2 of every value twice is twice A2, but for the half step between twins: -n - mean((2i-1) ...) changes by less than 1/2.
  expectWithin(two?.a2, 2 * (one?.a2 ?? Number.NaN), { abs: 0.1 }, 'A2 doubled');
});

it('the lognormal test is the normal test of the logarithms', () => {
  const values = valuesOf('ball bearings');
  const got = goodnessOfFit(values, fitLognormal(values));
  const plain = andersonDarling(values.map(Math.log));
  expectWithin(got?.a2, plain.a2, { rel: 1e-9 }, 'A2');
  expectWithin(got?.p, plain.p, { rel: 1e-8 }, 'p');
});

it('is null under eight values and bounded far away', () => {
  const few = Object.freeze([1, 2, 3, 4, 5, 6, 7]);
  expect(goodnessOfFit(few, fitNormal(few))).toBeNull();
  const wild = Object.freeze([...Array.from({ length: 300 }, (_, i) => 100 + i / 1000), 1e6]);
  for (const fit of [fitWeibull(wild), fitGamma(wild), fitLognormal(wild)]) {
    const got = goodnessOfFit(wild, fit);
    expect(got).toMatchObject({ p: 1e-6, pIsUpperBound: true });
    expect(Number.isFinite(got?.a2)).toBe(true);
  }
});

it('refuses values below the threshold of the fit', () => {
  const fit = fitWeibull([1, 2, 3, 4, 5, 6, 7, 8]);
  expect(() => goodnessOfFit([-1, 2, 3, 4, 5, 6, 7, 8], fit)).toThrow('needs values above the threshold 0, -1 given');
  expect(() => goodnessOfFit([1, Number.POSITIVE_INFINITY, 3], fit)).toThrow('goodnessOfFit: value 2 of 3 is Infinity');
});
