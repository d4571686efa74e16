import fc from 'fast-check';
import { expect, it } from 'vitest';
import published from '../../../test/published/association.json' with { type: 'json' };
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { anovaSets, withinReach } from '../../../test/published/strd.js';
import { standardisedDifference } from './effect-size.js';
import { adjustForMany } from './false-discovery.js';
import { equalSpreadTest, oneWayAnova, welchAnova } from './one-way.js';
import { everyPair } from './pairwise.js';
import { permutationTest } from './permutation.js';
import { kruskalWallis, rankSumTest } from './rank-tests.js';
import { welchTest } from './welch.js';

const tight = { rel: 1e-10 };

it('two means: Welch and Student on the sleep data', () => {
  const { a, b, welch, student } = published.sleep;
  for (const [name, expected, pooled, r] of [['Welch test', welch, false, 'R 4.2.2 t.test(sleep)'], ['Pooled t test', student, true, 'R 4.2.2 t.test(sleep, var.equal = TRUE)']] as const) {
    const { difference, low, high, t, df, p } = welchTest(a, b, { pooled });
    [difference, low, high, t, df, p].forEach((got, i) => { agrees({ method: name, source: r }, got, expected[i] ?? Number.NaN, tight, `figure ${i}`); });
  }
  agrees({ method: 'Pooled t test', source: 'Student 1908, t of the sleep data taken as unpaired (t = 1.861, p = 0.079, from memory)' }, welchTest(a, b, { pooled: true }).t, 1.861, { abs: 5e-4 }, 't');
});

it.each(['sprays', 'growth', 'ozone'] as const)('several samples: %s', (name) => {
  const { samples, kruskal, anova, welch, spread } = published[name];
  const h = kruskalWallis(samples);
  [h.h, h.df, h.p].forEach((got, i) => { agrees({ method: 'Kruskal-Wallis test', source: `R 4.2.2 kruskal.test (${name})` }, got, kruskal[i] ?? Number.NaN, tight, `figure ${i}`); });
  const one = oneWayAnova(samples);
  [one.f, one.between.df, one.within.df, one.p].forEach((got, i) => { agrees({ method: 'One-way analysis of variance', source: `R 4.2.2 oneway.test (${name})` }, got, anova[i] ?? Number.NaN, tight, `figure ${i}`); });
  const uneven = welchAnova(samples);
  [uneven.f, uneven.df1, uneven.df2, uneven.p].forEach((got, i) => { agrees({ method: 'Welch analysis of variance', source: `R 4.2.2 oneway.test, var.equal = FALSE (${name})` }, got, welch[i] ?? Number.NaN, tight, `figure ${i}`); });
  const alike = equalSpreadTest(samples);
  everyPair(samples).forEach(({ p, adjusted }, i) => {
    agrees({ method: 'Every pair of samples', source: `R 4.2.2 t.test (${name})` }, p, published[name].pairs[i] ?? Number.NaN, tight, `pair ${i}`);
    agrees({ method: 'Every pair of samples', source: `R 4.2.2 p.adjust, BY (${name})` }, adjusted, published[name].adjusted[i] ?? Number.NaN, tight, `pair ${i}`);
  });
  [alike.f, alike.df1, alike.df2, alike.p].forEach((got, i) => { agrees({ method: 'Brown-Forsythe test', source: `R 4.2.2 lm on distances from the median (${name})` }, got, spread[i] ?? Number.NaN, tight, `figure ${i}`); });
});

it.each(anovaSets)('one-way analysis of variance of $name as certified (NIST Statistical Reference Datasets)', ({ name, labels, values, certified, ofDoubles }) => {
  const samples = [...new Set(labels)].map((label) => values.filter((_value, i) => labels[i] === label));
  const { between, within, f } = oneWayAnova(samples);
  const method = 'One-way analysis of variance';
  agreesExactly({ method, source: 'NIST StRD, certified values' }, [between.df, within.df], certified.df, `${name}, degrees of freedom`);
  for (const [what, got, key] of [['between', between.ss, 'between'], ['within', within.ss, 'within'], ['F', f, 'f']] as const) {
    agrees({ method, source: 'NIST StRD, certified values' }, got, certified[key], withinReach(certified[key], ofDoubles[key]), `${name}, ${what}`);
    agrees({ method, source: 'exact fractions of the NIST StRD data as doubles' }, got, ofDoubles[key], { rel: 1e-12 }, `${name}, ${what}`);
  }
});

it('ranks of two samples, exact and with ties', () => {
  const exact = rankSumTest(published.rankExact.a, published.rankExact.b);
  expect(exact.exact).toBe(true);
  [exact.u, exact.p].forEach((got, i) => { agrees({ method: 'Mann-Whitney test, exact', source: 'R 4.2.2 wilcox.test(PlantGrowth), ties parted' }, got, published.rankExact.expected[i] ?? Number.NaN, tight, `figure ${i}`); });
  const ties = rankSumTest(published.rankTies.a, published.rankTies.b);
  expect(ties.exact).toBe(false);
  [ties.u, ties.p].forEach((got, i) => { agrees({ method: 'Mann-Whitney test, ties', source: 'R 4.2.2 wilcox.test(airquality, May and August)' }, got, published.rankTies.expected[i] ?? Number.NaN, tight, `figure ${i}`); });
  agrees({ method: 'Mann-Whitney test, ties', source: 'R help page of wilcox.test: W = 127.5, p = 0.0001208 for May against August (from memory)' }, rankSumTest(published.rankTies.b, published.rankTies.a).u, 127.5, { abs: 0 }, 'W');
});

it.each(['benjamini-hochberg', 'benjamini-yekutieli', 'holm'] as const)('many comparisons: %s, the fifteen ps of Benjamini & Hochberg 1995', (method) => {
  const adjusted = adjustForMany(published.many.ps, method);
  published.many[method].forEach((expected, i) => { agrees({ method: 'Many comparisons', source: `R 4.2.2 p.adjust, ${method}` }, adjusted[i], expected, tight, `p ${i + 1}`); });
  // Four discoveries at 0.05 by Benjamini & Hochberg, three by Bonferroni's followers: section 3.2 of the paper (from memory).
  expect(adjusted.filter((p) => p <= 0.05).length).toBe(method === 'benjamini-hochberg' ? 4 : 3);
});

it('the permutation test is exact where it can be, and repeats itself where it cannot', () => {
  // Fisher's way by hand: of the 20 divisions of 1..6 into threes only {1,2,3} and {4,5,6} are as far apart.
  agrees({ method: 'Permutation test', source: 'counted by hand: 2 of 20 divisions' }, permutationTest([1, 2, 3], [4, 5, 6]).p, 0.1, { abs: 0 }, '1..6');
  const { a, b } = published.sleep;
  const large = [a, b].map((sample) => [...sample, ...sample.map((value) => value + 0.05)]) as [number[], number[]];
  const drawn = permutationTest(...large, { seed: 7 });
  expect(drawn).toEqual(permutationTest(...large, { seed: 7 }));
  expect(drawn.exact).toBe(false);
  // With a mean of many values it must come near the t test.
  expect(Math.abs(drawn.p - welchTest(...large, { pooled: true }).p)).toBeLessThan(5 * drawn.standardError + 0.002);
});

it('the effect size and its interval hold the t test they belong to', () => {
  const { a, b, hedges } = published.sleep;
  const { g, low, high } = standardisedDifference(a, b);
  [g, low, high].forEach((got, i) => { agrees({ method: 'Hedges g with interval', source: 'R 4.2.2: t.test, lgamma and pt with noncentrality (sleep), formula of Hedges 1981' }, got, hedges[i] ?? Number.NaN, { rel: 1e-8, abs: 1e-9 }, `figure ${i}`); });
  // The interval for a confidence of 1 - p just touches 0.
  const { p } = welchTest(a, b, { pooled: true });
  agrees({ method: 'Hedges g, interval', source: 'duality with the pooled t test' }, standardisedDifference(a, b, 1 - p).low, 0, { abs: 1e-8 }, 'touches 0');
});

const sample = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 12 });
it('origin and unit change nothing, and exchanging the samples turns signs only', () => {
  fc.assert(fc.property(sample, sample, fc.integer({ min: 1, max: 9 }), fc.integer({ min: -1e6, max: 1e6 }), (a, b, unit, origin) => {
    fc.pre(new Set(a).size > 1 && new Set(b).size > 1);
    const moved = (values: readonly number[]) => values.map((value) => value * unit + origin);
    expect(welchTest(moved(a), moved(b)).t).toBeCloseTo(welchTest(a, b).t, 6);
    expect(welchTest(b, a).t).toBeCloseTo(-welchTest(a, b).t, 9);
    expect(rankSumTest(moved(a), moved(b))).toEqual(rankSumTest(a, b));
    expect(rankSumTest(b, a).delta).toBeCloseTo(-rankSumTest(a, b).delta, 12);
    expect(kruskalWallis([moved(a), moved(b)]).h).toBeCloseTo(kruskalWallis([a, b]).h, 9);
    expect(oneWayAnova([a, b]).f).toBeCloseTo(welchTest(a, b, { pooled: true }).t ** 2, 6);
  }), { numRuns: 200 });
});

it('refuses what cannot be compared', () => {
  expect(() => welchTest([1], [1, 2])).toThrow('at least 2 values in the first sample');
  expect(() => welchTest([1, 1], [1, 1])).toThrow('vary');
  expect(() => welchTest([1, Number.NaN], [1, 2])).toThrow('NaN given at 2');
  expect(() => kruskalWallis([[1, 1], [1, 1]])).toThrow('differ');
  expect(() => oneWayAnova([[1, 2]])).toThrow('at least 2 samples');
  expect(() => welchAnova([[1, 2], [3, 3]])).toThrow('sample 2');
  expect(() => equalSpreadTest([[1, 2], [3, 4]])).toThrow('different distances');
  expect(() => permutationTest([1, 2], [1, 2], { draws: 5 })).toThrow('draws');
  expect(() => adjustForMany([0.1, 1.2])).toThrow('1.2 given at 2');
  expect(() => standardisedDifference([1, 1], [2, 2])).toThrow('vary within');
});
