import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/special-charts.json' with { type: 'json' };
import flowWidth from '../../../test/published/flow-width.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { betweenWithinChart } from './between-within.js';
import { deviationFromNominal } from './deviation-from-nominal.js';
import { equalSpreads } from './equal-spreads.js';
import { extremeRuns, runRuleFor } from './extreme-runs.js';
import { groupChart } from './group-chart.js';
import { judgePanel, rulesFor } from './judge-panel.js';
import { baselineLimits } from './limits.js';
import { shewhartChart } from './shewhart.js';
import { subgroupStatistics } from './subgroup.js';

const { rings, wide, deviation, bartlett, runs, group } = published;
const statistics = (rows: readonly (readonly (number | null)[])[]) => Object.freeze(rows.map((row) => subgroupStatistics(Object.freeze([...row]))));
const PRINTED = { source: 'Montgomery, Introduction to SQC, tables 6.3 and 6.4 (from memory, recomputed)' };

it('means, ranges and sds of the rings, as panels (Montgomery, table 6.3)', () => {
  const { printed, range, sd } = rings;
  const r = shewhartChart('xbar-r', statistics(rings.subgroups));
  const s = shewhartChart('xbar-s', statistics(rings.subgroups));
  const xr = { ...PRINTED, method: 'X-bar and R chart' };
  const xs = { ...PRINTED, method: 'X-bar and S chart' };
  agrees(xr, r.basis.centre, printed.centre, printed.tolerance, 'centre');
  agrees(xr, r.basis.spreadCentre, printed.rbar, printed.spreadTolerance, 'Rbar');
  agrees(xr, r.basis.sigma, range.sigma, { rel: 1e-9 }, 'sigma, recomputed');
  agrees(xs, s.basis.spreadCentre, printed.sbar, printed.spreadTolerance, 'sbar');
  agrees(xs, s.panels[0].lower[0], printed.lower, printed.tolerance, 'lower, printed');
  agrees(xs, s.panels[0].upper[0], printed.upper, printed.tolerance, 'upper, printed');
  agrees(xs, s.panels[1].upper[0], printed.sdUpper, printed.spreadTolerance, 'sd upper, printed');
  agrees(xs, s.basis.sigma, sd.sigma, { rel: 1e-11 }, 'sigma, recomputed');
  agrees(xs, s.panels[0].lower[0], sd.lower, { rel: 1e-12 }, 'lower, recomputed');
  agrees(xs, s.panels[0].upper[0], sd.upper, { rel: 1e-12 }, 'upper, recomputed');
  agrees(xs, s.panels[1].upper[0], sd.sdUpper, { rel: 1e-10 }, 'sd upper, recomputed');
  agreesExactly(xr, r.panels.map(({ out }) => out), [[], []], 'no signal');
  expect(r.panels.map(({ statistic }) => statistic)).toEqual(['mean', 'range']);
});

it('flow widths give no zone-test signal on either chart (Montgomery, table 6.1)', () => {
  for (const kind of ['xbar-r', 'xbar-s'] as const) {
    const { panels } = shewhartChart(kind, statistics(flowWidth.subgroups));
    const check = { method: 'zone tests', source: 'Montgomery, Introduction to SQC, table 6.1, recomputed' };
    agreesExactly(check, panels.flatMap((panel) => judgePanel(panel, ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'])), [], `no signal on the ${kind} chart`);
  }
});

it('samples of unequal size (Montgomery, table 6.4)', () => {
  const { sizes, pooled, centre, lowerOfThree, upperOfThree } = rings.unequal;
  const check = { ...PRINTED, method: 'X-bar and S chart, unequal sizes' };
  const rows = rings.subgroups.map((row, i) => row.map((reading, j) => (j < (sizes[i] ?? 0) ? reading : null)));
  const { basis, panels } = shewhartChart('xbar-s', statistics(rows));
  agreesExactly(check, basis.readings, rings.printed.readings, 'readings');
  agrees(check, basis.sigma, rings.printed.pooled, rings.printed.spreadTolerance, 'pooled sd, printed');
  agrees(check, basis.sigma, pooled, { rel: 1e-10 }, 'pooled sd, recomputed');
  agrees(check, basis.centre, centre, { rel: 1e-14 }, 'centre');
  agrees(check, panels[0].lower[1], lowerOfThree, { rel: 1e-12 }, 'lower of three');
  agrees(check, panels[0].upper[1], upperOfThree, { rel: 1e-12 }, 'upper of three');
});

it.each(wide)('subgroups of $n, beyond every table', ({ n, subgroups, sigmaS, upperS, sigmaR, upperR, sdUpper }) => {
  const source = `factors of n = ${n} integrated with SciPy`;
  const s = shewhartChart('xbar-s', statistics(subgroups));
  const r = shewhartChart('xbar-r', statistics(subgroups));
  agrees({ method: 'X-bar and S chart', source }, s.basis.sigma, sigmaS, { rel: 1e-10 }, 'sigma');
  agrees({ method: 'X-bar and S chart', source }, s.panels[0].upper[0], upperS, { rel: 1e-10 }, 'upper');
  agrees({ method: 'X-bar and S chart', source }, s.panels[1].upper[0], sdUpper, { rel: 1e-10 }, 'sd upper');
  agrees({ method: 'X-bar and R chart', source }, r.basis.sigma, sigmaR, { rel: 1e-9 }, 'sigma');
  agrees({ method: 'X-bar and R chart', source }, r.panels[0].upper[0], upperR, { rel: 1e-9 }, 'upper');
  // One reading missing, and the subgroup has the limits of n - 1.
  const short = subgroups.map((row, i) => (i === 0 ? [null, ...row.slice(1)] : row));
  const { basis, panels } = shewhartChart('xbar-s', statistics(short));
  expectWithin(panels[0].sigma[0], basis.sigma / Math.sqrt(n - 1), { rel: 1e-14 }, 'sigma of the short one');
});

it('frozen limits judge readings they were not made from', () => {
  const basis = baselineLimits('xbar-r', statistics([[1, 3], [2, 4], [3, 5], [1, 3]]));
  const { panels } = shewhartChart('xbar-r', statistics([[2, 3], [30, 31], [null, null], [1, 20], [4, null]]), basis);
  expect(panels[0].points).toEqual([2.5, 30.5, null, 10.5, 4]);
  expect(panels[0].out).toEqual([{ index: 1, side: 'above' }, { index: 3, side: 'above' }]);
  expect(panels[1].out).toEqual([{ index: 3, side: 'above' }]);
  expect([panels[0].upper[2], panels[1].upper[2], panels[1].upper[4]]).toEqual([null, null, null]);
  expectWithin(panels[0].upper[4], basis.centre + 3 * basis.sigma, { rel: 1e-15 }, 'limit of one reading');
});

it('means by their moving range, with sigma between and within (ring data, recomputed)', () => {
  const expected = rings.betweenWithin;
  const check = { method: 'between and within chart', source: 'NumPy on Montgomery, Introduction to SQC, table 6.3' };
  const chart = betweenWithinChart(statistics(rings.subgroups));
  for (const figure of ['centre', 'sigmaOfMeans', 'sigmaWithin', 'sigmaBetween', 'varianceBetween', 'sigmaTotal'] as const) agrees(check, chart[figure], expected[figure], { rel: 1e-8 }, figure);
  agrees(check, chart.panels[0].lower[0], expected.lower, { rel: 1e-11 }, 'lower');
  agrees(check, chart.panels[0].upper[0], expected.upper, { rel: 1e-11 }, 'upper');
  expect(chart.panels.map(({ statistic }) => statistic)).toEqual(['individual', 'moving-range', 'range']);
  expect(betweenWithinChart(statistics(rings.subgroups), 'sd').panels[2].statistic).toBe('sd');
});

it('points round a can that differ always in the same way leave the limits of the means to the means', () => {
  const cans = statistics([1, 2, 1, 3, 2, 1, 2].map((level) => [level, level + 10, level + 20]));
  const chart = betweenWithinChart(cans);
  expect(shewhartChart('xbar-r', cans).panels[0].upper[0]).toBeGreaterThan(20 + 10);
  expect(chart.panels[0].upper[0]).toBeLessThan(16);
  // The means vary far less than three readings of that spread would: nothing is left between.
  expect([chart.sigmaBetween, chart.varianceBetween < 0]).toEqual([0, true]);
});

it('missing readings change the share of the readings in a mean, and a gap breaks the moving range', () => {
  const chart = betweenWithinChart(statistics([[1, 3], [5, 9], [null, null], [7, 7, 10, 8], [4]]));
  expect(chart.panels[0].points).toEqual([2, 7, null, 8, 4]);
  expect(chart.panels[1].points).toEqual([null, 5, null, null, 4]);
  expectWithin(chart.varianceBetween, chart.sigmaOfMeans ** 2 - chart.sigmaWithin ** 2 * ((0.5 + 0.5 + 0.25 + 1) / 4), { rel: 1e-14 }, 'variance between');
  expect(() => betweenWithinChart(statistics([[1, 1], [2, 2]]))).toThrow('needs readings that differ within subgroups');
  expect(() => betweenWithinChart(statistics([[1, 3], [2, 2]]))).toThrow('needs means that differ');
  expect(() => betweenWithinChart(statistics([[1, 3]]))).toThrow('at least 2 subgroups of 2 or more readings');
  expect(() => betweenWithinChart(statistics([[-1e153, 1e153], [3e154, 3.1e154]]))).toThrow('squares are within the range');
  expect(() => betweenWithinChart(statistics([[-1e308, 1e308], [2, 3]]))).toThrow(RangeError);
});

it('deviations of two parts from their nominals (Montgomery, table 10.1)', () => {
  const { printed } = deviation;
  const check = { method: 'deviation from nominal', source: 'Montgomery, Introduction to SQC, table 10.1 (from memory, recomputed)' };
  const chart = deviationFromNominal('xbar-r', deviation.checks);
  agrees(check, chart.basis.centre, printed.centre, printed.tolerance, 'centre, printed');
  agrees(check, chart.basis.spreadCentre, printed.rbar, printed.tolerance, 'Rbar, printed');
  agrees(check, chart.panels[0].lower[0], printed.lower, printed.tolerance, 'lower, printed');
  agrees(check, chart.panels[0].upper[0], printed.upper, printed.tolerance, 'upper, printed');
  agrees(check, chart.panels[0].upper[0], deviation.upper, { rel: 1e-9 }, 'upper, recomputed');
  agrees({ method: 'deviation from nominal', source: 'SciPy 1.17 chi2' }, chart.test?.statistic, deviation.test.statistic, { rel: 1e-9 }, 'Bartlett of the parts');
  agrees({ method: 'deviation from nominal', source: 'SciPy 1.17 chi2' }, chart.test?.p, deviation.test.p, { rel: 1e-9 }, 'p of the parts');
  agreesExactly(check, [chart.spreads, chart.products.map(({ product, checks, freedom }) => [product, checks, freedom])], ['alike', [['A', 4, 8], ['B', 6, 12]]], 'parts vary alike');
});

it.each(bartlett)("Bartlett's test of $name (R)", ({ name, groups, statistic, p }) => {
  const check = { method: "Bartlett's test", source: 'R 4.2.2 bartlett.test' };
  const test = equalSpreads(Object.freeze(groups));
  agrees(check, test.statistic, statistic, { rel: 1e-10 }, `statistic, ${name}`);
  agrees(check, test.p, p, { rel: 1e-9 }, `p, ${name}`);
  const scaled = equalSpreads(groups.map(({ sd, freedom }) => ({ sd: sd * 1e200, freedom })));
  expectWithin(scaled.statistic, test.statistic, { rel: 1e-10 }, 'in another unit');
});

it('says when products vary differently, and when that cannot be said', () => {
  const checks = (spreads: Record<string, number>) => Array.from({ length: 8 }, (_, i) => Object.entries(spreads).map(([product, spread]) => ({ product, nominal: 10, readings: [10 + spread * Math.sin(i), 10 + spread * Math.cos(3 * i), 10 - spread * Math.sin(2 * i)] }))).flat();
  expect(deviationFromNominal('xbar-s', checks({ a: 1, b: 1.1 })).spreads).toBe('alike');
  expect(deviationFromNominal('xbar-s', checks({ a: 1, b: 8 })).spreads).toBe('differ');
  expect(deviationFromNominal('xbar-s', checks({ a: 1, b: 0 }))).toMatchObject({ spreads: 'differ', test: null });
  expect(deviationFromNominal('xbar-s', checks({ a: 1 }))).toMatchObject({ spreads: 'unknown', test: null });
  const single = [3, 5, 4, 6, 2].map((x, i) => ({ product: i === 4 ? 'b' : 'a', nominal: i === 4 ? 1 : 3, readings: [x] }));
  const chart = deviationFromNominal('i-mr', single);
  expect([chart.spreads, chart.panels[0].points]).toEqual(['unknown', [0, 2, 1, 3, 1]]);
  expect(chart.products[1]).toEqual({ product: 'b', checks: 1, readings: 1, meanDeviation: 1, sd: null, freedom: 0 });
});

it('refuses nominals and spreads that mean nothing', () => {
  const check = { product: 'a', nominal: 1, readings: [1, 2] };
  expect(() => deviationFromNominal('xbar-r', [check, { ...check, nominal: 2 }])).toThrow('one nominal a product, check 2 has 2 after 1');
  expect(() => deviationFromNominal('xbar-r', [{ ...check, nominal: Number.NaN }])).toThrow('finite nominal, check 1 has NaN');
  expect(() => deviationFromNominal('xbar-r', [check], 1)).toThrow('significance strictly between 0 and 1, 1 given');
  expect(() => deviationFromNominal('xbar-r', [check])).toThrow('at least 2 subgroups');
  expect(() => equalSpreads([{ sd: 1, freedom: 3 }])).toThrow('at least 2 groups, 1 given');
  for (const sd of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(() => equalSpreads([{ sd: 1, freedom: 3 }, { sd, freedom: 2 }])).toThrow(`group 2 has ${sd}`);
});

it('limits and extremes of six heads (recomputed)', () => {
  const check = { method: 'group chart', source: 'NumPy, from the definitions' };
  const chart = groupChart(group.checks);
  agrees(check, chart.centre, group.centre, { rel: 1e-13 }, 'centre');
  agrees(check, chart.sigma, group.sigmaRange, { rel: 1e-9 }, 'sigma from ranges');
  agrees(check, groupChart(group.checks, 'sd').sigma, group.sigmaSd, { rel: 1e-10 }, 'sigma from sds');
  agrees(check, chart.panels[0].upper[3], group.upper, { rel: 1e-11 }, 'upper');
  agrees(check, chart.panels[1].lower[3], group.lower, { rel: 1e-11 }, 'lower');
  agreesExactly(check, chart.highest.map(([head]) => head), group.highest, 'highest heads');
  agreesExactly(check, chart.lowest.map(([head]) => head), group.lowest, 'lowest heads');
  agreesExactly(check, chart.beyond.map(({ index, head }) => [index, head]), group.beyond, 'heads beyond their limits');
  const single = groupChart(group.checks.map((heads) => heads.map((readings) => readings.slice(0, 1))));
  agrees(check, single.sigma, group.single.sigma, { rel: 1e-9 }, 'sigma of single readings');
  expect(single.sigmaFrom).toBe('moving-range');
});

it.each(runs)('checks between false alarms of $run times the same of $heads heads', ({ heads, run, averageRunLength }) => {
  const check = { method: 'run of one head', source: 'first-step equations solved with NumPy; 85, 341, 259, 1555 as in Montgomery, Introduction to SQC (from memory)' };
  const rule = runRuleFor(heads, run);
  agrees(check, rule.averageRunLength, averageRunLength, { rel: 1e-12 }, `${run} of ${heads}`);
  expectWithin(rule.probability, 1 / heads ** (run - 1), { rel: 1e-14 }, 'probability');
});

it('chooses the shortest run that alarms no more often than limits do', () => {
  expect([2, 3, 4, 6, 12, 24].map((heads) => runRuleFor(heads).run)).toEqual([9, 7, 6, 5, 4, 3]);
  for (const heads of [1, 2.5, 1001, Number.NaN]) expect(() => runRuleFor(heads)).toThrow(`heads from 2 to 1000, ${heads} given`);
  for (const run of [1, 2.5, 101]) expect(() => runRuleFor(4, run)).toThrow(`run from 2 to 100, ${run} given`);
});

it('names a head that is the extreme again and again; ties name all, a check without heads ends the run', () => {
  const level = (heights: (number | null)[]) => heights.map((height) => [height]);
  const chart = groupChart([[1, 5, 3], [2, 5, 5], [1, 6, 2], [null, 7, null], [1, 4, 9], [2, 3, 8], [1, 4, 8]].map(level), 'range', 3);
  expect(chart.highest).toEqual([[1], [1, 2], [1], [], [2], [2], [2]]);
  expect(chart.runs.filter(({ side }) => side === 'above')).toEqual([{ index: 2, head: 1, side: 'above', length: 3, from: 0 }, { index: 6, head: 2, side: 'above', length: 3, from: 4 }]);
  expect(chart.panels[0].points).toEqual([5, 5, 6, null, 9, 8, 8]);
  expect(extremeRuns(Object.freeze([[0], [0], [0]]), 'below', 2).map(({ index, length }) => [index, length])).toEqual([[1, 2], [2, 3]]);
});

it('a difference between heads that lasts does not widen the limits', () => {
  const checks = Array.from({ length: 6 }, (_, i) => [0, 0, 50].map((offset) => [offset + (i % 2), offset + 1 - (i % 2), offset]));
  const chart = groupChart(checks);
  expect(chart.sigma).toBeLessThan(1);
  expect(chart.beyond.filter(({ side }) => side === 'above')).toEqual(checks.map((_, index) => ({ index, head: 2, side: 'above' })));
});

it('refuses heads that cannot be compared', () => {
  expect(() => groupChart([])).toThrow('at least 1 check of 2 or more heads, 0 checks of 0 heads');
  expect(() => groupChart([[[1], [2]], [[1]]])).toThrow('check 2 has 1 where check 1 has 2');
  expect(() => groupChart([[[null], [null]]])).toThrow('at least 1 reading, 0 given');
  expect(() => groupChart([[[1], [2]]])).toThrow('one at two checks in a row');
  expect(() => groupChart([[[1, 1], [2, 2]], [[3, 3], [4, 4]]])).toThrow('needs readings that differ within heads');
  expect(() => groupChart([[[1, Number.NaN], [2, 2]]])).toThrow('reading 2 of 2 is NaN');
});

it('patterns are judged on means only, limits on every panel', () => {
  const rules = ['beyond-limits', 'eight-in-a-row'] as const;
  expect(rulesFor('mean', rules)).toEqual(rules);
  for (const statistic of ['range', 'p', 'gap', 'cusum-above', 'highest'] as const) expect(rulesFor(statistic, rules)).toEqual(['beyond-limits']);
  expect(rulesFor('p', rules, true)).toEqual(rules);
  expect(rulesFor('gap', rules, true)).toEqual(['beyond-limits']);
  const values = [0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 9, null, 1];
  const { panels } = shewhartChart('i-mr', statistics(values.map((value) => [value])), { kind: 'i-mr', centre: 0, sigma: 2, spreadCentre: 2, subgroups: 20, readings: 20 });
  expect(judgePanel(panels[0], rules)).toEqual([
    { index: 16, rule: 'eight-in-a-row', side: 'above', firstIndex: 9 },
    { index: 17, rule: 'beyond-limits', side: 'above', firstIndex: 17 },
    { index: 17, rule: 'eight-in-a-row', side: 'above', firstIndex: 10 },
  ]);
  expect(judgePanel(panels[0], rules, false, [12]).map(({ rule }) => rule)).toEqual(['beyond-limits']);
  expect(() => judgePanel(panels[0], rules, false, [20])).toThrow('20 given');
  expect(judgePanel(panels[1], rules).map(({ index, rule }) => [index, rule])).toEqual([[17, 'beyond-limits']]);
});

const rows = fc.array(fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 2, maxLength: 5 }), { minLength: 3, maxLength: 12 });

it('three panels follow shift, scale and padding with missing readings', () => {
  fc.assert(fc.property(rows, fc.constantFrom(0.5, 3), fc.integer({ min: -1000, max: 1_000_000 }), (values, a, b) => {
    const plainRows = statistics(values);
    fc.pre(new Set(plainRows.map(({ mean }) => mean)).size > 1 && plainRows.some(({ range }) => range !== 0));
    const plain = betweenWithinChart(plainRows);
    const moved = betweenWithinChart(statistics(values.map((row) => row.map((value) => a * value + b))));
    expectWithin(moved.sigmaWithin, a * plain.sigmaWithin, { rel: 1e-8 }, 'within');
    expectWithin(moved.sigmaOfMeans, a * plain.sigmaOfMeans, { rel: 1e-8, abs: 1e-9 }, 'of means');
    expectWithin(moved.centre, a * plain.centre + b, { rel: 1e-12, abs: 1e-9 }, 'centre');
    expect(betweenWithinChart(statistics(values.map((row) => [null, ...row, null])))).toEqual(plain);
  }));
});
