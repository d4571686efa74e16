import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/special-charts.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { cusumChart } from './cusum.js';
import { ewmaChart } from './ewma.js';
import { subgroupStatistics } from './subgroup.js';
import { weightedSeries } from './weighted-series.js';

const TABLE_9_1 = 'Montgomery, Introduction to SQC, tables 9.2 and 9.10 (from memory, recomputed)';
const sided = (out: readonly { index: number; side: string }[]) => out.map(({ index, side }) => [index + 1, side]);

it('averages of the process of the handbook (NIST/SEMATECH e-Handbook 6.3.2.4)', () => {
  const { values, points, printed, firstUpper, lower, upper, lambda, factor, target, sigma } = published.handbookEwma;
  const options = { lambda, factor, target, sigma };
  const check = { method: 'EWMA chart', source: 'NIST/SEMATECH e-Handbook 6.3.2.4' };
  const { panel } = ewmaChart(Object.freeze([...values]), { ...options, limits: 'steady-state' });
  points.forEach((point, i) => {
    agrees(check, panel.points[i], point, { abs: 5e-5 }, `average ${i + 1}, recomputed`);
    agrees(check, panel.points[i], printed.points[i] ?? Number.NaN, printed.tolerance, `average ${i + 1}, printed`);
  });
  agrees(check, panel.lower[0], lower, { rel: 1e-12 }, 'lower');
  agrees(check, panel.upper[19], upper, { rel: 1e-12 }, 'upper');
  agrees(check, panel.lower[0], printed.lower, printed.limitTolerance, 'printed lower');
  agrees(check, panel.upper[0], printed.upper, printed.limitTolerance, 'printed upper');
  agreesExactly(check, panel.out, [], 'no signal');
  const exact = ewmaChart(Object.freeze([...values]), { ...options, limits: 'exact' }).panel;
  firstUpper.forEach((limit, i) => { agrees({ ...check, source: 'closed form of the variance' }, exact.upper[i], limit, { rel: 1e-12 }, `exact upper ${i + 1}`); });
});

it('averages that find a shift of one sigma (Montgomery, table 9.10)', () => {
  const { points, upper, out, printed, lambda, factor, target, sigma } = published.ewma;
  const check = { method: 'EWMA chart', source: TABLE_9_1 };
  const { panel } = ewmaChart(Object.freeze([...published.values]), { lambda, factor, target, sigma, limits: 'exact' });
  points.forEach((point, i) => { expectWithin(panel.points[i], point, { rel: 1e-12 }, `average ${i + 1}`); });
  upper.forEach((limit, i) => { agrees(check, panel.upper[i], limit, { rel: 1e-12 }, `upper ${i + 1}`); });
  printed.points.forEach((point, i) => { agrees(check, panel.points[i], point, printed.tolerance, `printed average ${i + 1}`); });
  agrees(check, panel.upper[29], printed.finalUpper, printed.finalTolerance, 'printed final limit');
  agreesExactly(check, panel.out.map(({ index }) => index + 1), out, 'signals');
});

it('the average of means of unequal size has the width its variance says', () => {
  const { panel } = ewmaChart(Object.freeze([1, null, 2, 3]), { lambda: 0.4, factor: 2, target: 1, sigma: Object.freeze([1, null, 0.5, 2]), limits: 'exact' });
  const second = Math.hypot(0.4 * 0.5, 0.6 * 0.4);
  expect([panel.points[1], panel.upper[1], panel.centre[1]]).toEqual([null, null, 1]);
  expectWithin(panel.points[2], 1.4, { rel: 1e-15 }, 'a gap changes nothing');
  expectWithin(panel.upper[3], 1 + 2 * Math.hypot(0.4 * 2, 0.6 * second), { rel: 1e-14 }, 'width');
  expect(() => ewmaChart([1, 2], { lambda: 0.4, factor: 2, target: 1, sigma: [1, 2], limits: 'steady-state' })).toThrow('one sigma for all values');
});

it('an average that weighs only the newest value is the chart of the values', () => {
  const { panel } = ewmaChart(Object.freeze([5, -4, 9.5]), { lambda: 1, factor: 3, target: 0, sigma: 2, limits: 'exact' });
  expect([panel.points, panel.upper, sided(panel.out)]).toEqual([[5, -4, 9.5], [6, 6, 6], [[3, 'above']]]);
});

it('cumulative sums of the chemical (Montgomery & Runger, table 16-8)', () => {
  const { values, target, K, H, above, below, countAbove, countBelow } = published.chemicalCusum;
  const check = { method: 'tabular CUSUM', source: 'Montgomery & Runger, 3rd ed., table 16-8' };
  const chart = cusumChart(Object.freeze([...values]), { target, sigma: 1, k: K, h: H });
  above.forEach((sum, i) => { agrees(check, chart.above[i], sum, { abs: 1e-9 }, `C+ ${i + 1}`); });
  below.forEach((sum, i) => { agrees(check, chart.below[i], sum, { abs: 1e-9 }, `C- ${i + 1}`); });
  agreesExactly(check, chart.countAbove, countAbove, 'N+');
  agreesExactly(check, chart.countBelow, countBelow, 'N-');
  agreesExactly(check, chart.signals, [], 'no signal');
  // In sigmas of 2 the same design is k = 0.5, h = 5.
  expect(cusumChart(Object.freeze([...values]), { target, sigma: 2, k: K / 2, h: H / 2 })).toEqual(chart);
});

it('cumulative sums that find a shift of one sigma, when it began and how large it is (Montgomery, table 9.2)', () => {
  const { target, sigma, k, h, above, below, printed } = published.cusum;
  const check = { method: 'tabular CUSUM', source: TABLE_9_1 };
  const chart = cusumChart(Object.freeze([...published.values]), { target, sigma, k, h });
  above.forEach((sum, i) => { agrees(check, chart.above[i], sum, { abs: 1e-9 }, `C+ ${i + 1}`); });
  below.forEach((sum, i) => { agrees(check, chart.below[i], sum, { abs: 1e-9 }, `C- ${i + 1}`); });
  const [first] = chart.signals;
  agreesExactly(check, [first?.index, first?.side, first?.from].map((entry) => (typeof entry === 'number' ? entry + 1 : entry)), [printed.signal, 'above', printed.from], 'first signal and start of the shift');
  agreesExactly(check, chart.countAbove[printed.signal - 1], printed.count, 'N+');
  agrees(check, chart.above[printed.signal - 1], printed.sum, printed.tolerance, 'sum at the signal');
  agrees(check, first?.mean, printed.mean, printed.tolerance, 'mean after the shift');
  expectWithin(first?.shift, 1.25, { abs: 0.006 }, 'shift in sigmas');
  expect(sided(chart.panels[0].out)).toEqual([[29, 'above'], [30, 'above']]);
});

it('a head start of half the interval (Montgomery, table 9.5)', () => {
  const { values, target, sigma, k, h, start, printed } = published.headStart;
  const chart = cusumChart(Object.freeze([...values]), { target, sigma, k, h, headStart: start });
  const check = { method: 'tabular CUSUM', source: 'Montgomery, Introduction to SQC, table 9.5 (from memory, recomputed)' };
  agreesExactly(check, chart.above, printed.above, 'C+ with a head start');
  agreesExactly(check, chart.below, printed.below, 'C- with a head start');
});

it('the sum below is drawn below zero and signals below', () => {
  const chart = cusumChart(Object.freeze([0, -3, null, -4]), { target: 0, sigma: 1, k: 0.5, h: 5 });
  expect(chart.panels[1]).toMatchObject({ points: [0, -2.5, null, -6], lower: [-5, -5, -5, -5], upper: [null, null, null, null], out: [{ index: 3, side: 'below' }] });
  expect(chart.signals).toEqual([{ index: 3, side: 'below', from: 1, mean: -3.5, shift: -3.5 }]);
  expect(Object.is(chart.panels[1].points[0], 0)).toBe(true);
});

it('a sum on the limit is no signal, and what rounding leaves of a sum is no run', () => {
  expect(cusumChart(Object.freeze([0.3, 0.3, 0.3]), { target: 0.1, sigma: 0.4, k: 0.5, h: 5 }).countAbove).toEqual([0, 0, 0]);
  expect(cusumChart(Object.freeze([0.1, 0.2]), { target: 0, sigma: 0.1, k: 0, h: 3 }).signals).toEqual([]);
});

it('means of subgroups get the sigma of a mean, individuals that of the moving range, or both the one that is known', () => {
  const rows = [[1, 3], [2, null], [4, 8]].map((row) => subgroupStatistics(row));
  const series = weightedSeries(Object.freeze(rows));
  expectWithin(series.sigma, (3 / 2) * Math.sqrt(Math.PI), { rel: 1e-10 }, 'Rbar/d2');
  expectWithin(series.sigmas[0], series.sigma / Math.SQRT2, { rel: 1e-15 }, 'sigma of a mean of two');
  expect([series.points, series.centre, series.sigmas[1]]).toEqual([[2, 2, 6], 18 / 5, series.sigma]);
  expect(weightedSeries(Object.freeze(rows), 4).sigmas).toEqual([4 / Math.SQRT2, 4, 4 / Math.SQRT2]);
  expect(() => weightedSeries([5, 5, 5].map((x) => subgroupStatistics([x])))).toThrow('needs readings that differ, or a sigma');
  expect(() => weightedSeries([])).toThrow('at least 1 reading, 0 given');
});

const series = fc.array(fc.option(fc.integer({ min: -40, max: 40 }), { freq: 6 }), { minLength: 1, maxLength: 30 }).filter((values) => values.some((value) => value !== null));

it('both charts follow shift, scale and mirror', () => {
  fc.assert(fc.property(series, fc.constantFrom(0.5, 3), fc.integer({ min: -1000, max: 1_000_000 }), (values, a, b) => {
    const move = (factor: number, offset: number) => Object.freeze(values.map((value) => (value === null ? null : factor * value + offset)));
    const ewma = (factor: number, offset: number) => ewmaChart(move(factor, offset), { lambda: 0.25, factor: 3, target: factor * 2 + offset, sigma: 8 * Math.abs(factor), limits: 'exact' }).panel;
    const cusum = (factor: number, offset: number) => cusumChart(move(factor, offset), { target: factor * 2 + offset, sigma: 8 * Math.abs(factor), k: 0.5, h: 4 });
    const close = { rel: 1e-9, abs: 1e-9 };
    ewma(a, b).points.forEach((point, i) => {
      const plain = ewma(1, 0).points[i] ?? null;
      if (plain === null) expect(point).toBeNull();
      else expectWithin(point, a * plain + b, close, 'average');
    });
    expect(ewma(a, b).out).toEqual(ewma(1, 0).out);
    expect(ewma(-1, 0).out).toEqual(ewma(1, 0).out.map(({ index, side }) => ({ index, side: side === 'above' ? 'below' : 'above' })));
    expect(cusum(a, b).countAbove).toEqual(cusum(1, 0).countAbove);
    expect(cusum(-1, 0).above).toEqual(cusum(1, 0).below);
    expect(cusum(-1, 0).countBelow).toEqual(cusum(1, 0).countAbove);
  }));
});

it('refuses what it cannot average or add up', () => {
  const ewma = { lambda: 0.2, factor: 3, target: 0, sigma: 1, limits: 'exact' } as const;
  const cusum = { target: 0, sigma: 1, k: 0.5, h: 5 };
  for (const lambda of [0, -1, 1.1, Number.NaN]) expect(() => ewmaChart([1], { ...ewma, lambda })).toThrow(`lambda above 0 and at most 1, ${lambda} given`);
  expect(() => ewmaChart([1], { ...ewma, factor: 0 })).toThrow('positive factor');
  expect(() => ewmaChart([1], { ...ewma, sigma: 0 })).toThrow('positive sigma, that of value 1 is 0');
  expect(() => ewmaChart([1], { ...ewma, target: Number.NaN })).toThrow('finite target');
  expect(() => ewmaChart([1, Number.NaN], ewma)).toThrow('value 2 is NaN');
  expect(() => ewmaChart([null], ewma)).toThrow('at least 1 value');
  expect(() => ewmaChart([1e308], { ...ewma, target: -1e308 })).toThrow('within the range of numbers');
  expect(() => cusumChart([1], { ...cusum, sigma: 0 })).toThrow('positive sigma');
  expect(() => cusumChart([1], { ...cusum, k: -1 })).toThrow('allowance k of 0 or more');
  expect(() => cusumChart([1], { ...cusum, h: 0 })).toThrow('positive decision interval');
  expect(() => cusumChart([1], { ...cusum, headStart: 5 })).toThrow('head start from 0 to below h');
  expect(() => cusumChart([1], { ...cusum, target: Number.POSITIVE_INFINITY })).toThrow('finite target');
  expect(() => cusumChart([null], cusum)).toThrow('at least 1 value');
  expect(() => cusumChart([1, Number.NaN], cusum)).toThrow('value 2 is NaN');
  expect(() => cusumChart([1e308, 1e308], cusum)).toThrow(RangeError);
  expect(() => cusumChart([1e20], { ...cusum, sigma: 1e-300 })).toThrow('value 1 leads beyond it');
  expect(() => ewmaChart([1], { ...ewma, sigma: 1e-200, lambda: 1e-200 })).toThrow('limits of no width');
});
