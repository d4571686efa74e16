import fc from 'fast-check';
import { expect, it } from 'vitest';
import flowWidth from '../../../test/published/flow-width.json' with { type: 'json' };
import individuals from '../../../test/published/individuals.json' with { type: 'json' };
import { agreesExactly } from '../../../test/published/agrees.js';
import { movingRanges } from '../charts/individuals.js';
import { baselineLimits, type LimitsBasis, limitsForSize } from '../charts/limits.js';
import { type SubgroupStatistics, subgroupStatistics } from '../charts/subgroup.js';
import { evaluateRules, type JudgedPoint, judgeSeries, type SeriesPoint } from './evaluate.js';
import { ALL_RULES, RULE_NAMES } from './run-rules.js';

const freeze = (basis: Partial<LimitsBasis>): LimitsBasis => Object.freeze({ kind: 'xbar-r', centre: 10, sigma: 2, spreadCentre: 2.3, subgroups: 25, readings: 100, ...basis });
const means = freeze({});
const singles = freeze({ kind: 'i-mr', sigma: 1, spreadCentre: 1.128379 });
const point = (mean: number | null, limits: LimitsBasis | null, more: Partial<SeriesPoint> = {}): SeriesPoint => Object.freeze({ n: 4, mean, spread: null, limits, ...more });
const judge = (points: readonly SeriesPoint[]): JudgedPoint[] => judgeSeries(Object.freeze(points), RULE_NAMES);
const fired = (judged: readonly JudgedPoint[]) => judged.flatMap(({ firings }) => firings.map(({ index, rule, side, chart }) => `${chart} ${rule} ${side} @${index}`));
const pointsOf = (subgroups: readonly SubgroupStatistics[], limits: LimitsBasis): SeriesPoint[] =>
  subgroups.map(({ n, mean, range, sd }) => point(mean, limits, { n, spread: limits.kind === 'xbar-s' ? sd : range }));

it.each(['xbar-r', 'xbar-s'] as const)('no point of the flow widths is out and no zone test fires on the %s chart (Montgomery, table 6.1)', (kind) => {
  const subgroups = flowWidth.subgroups.map(subgroupStatistics);
  const judged = judge(pointsOf(subgroups, baselineLimits(kind, subgroups)));
  agreesExactly({ method: 'zone tests', source: 'Montgomery, Introduction to Statistical Quality Control, table 6.1' }, judged.map(({ status, spreadBeyond }) => [status, spreadBeyond]), Array(25).fill(['steady', false]), `flow widths on the ${kind} chart`);
});

it('the concentrations give no signal as individuals (Montgomery & Runger, table 16-3)', () => {
  const subgroups = individuals.chemical.values.map((value) => subgroupStatistics([value]));
  const judged = judge(pointsOf(subgroups, baselineLimits('i-mr', subgroups)));
  agreesExactly({ method: 'zone tests', source: 'Montgomery & Runger, 3rd ed., table 16-3' }, judged.map(({ status }) => status), Array(20).fill('steady'), 'concentrations as individuals');
});

it('without limits a point is not judged, however it looks', () => {
  expect(judge([point(1e6, null)])).toEqual([{ status: 'not-judged', z: null, spreadBeyond: false, firings: [] }]);
});

it('without a mean a point is not judged', () => {
  expect(judge([point(null, means, { n: 0 })])[0]?.status).toBe('not-judged');
});

it('z is measured in the sigma of a mean of the subgroup its own size', () => {
  expect(judge([point(12, means), point(12, means, { n: 1 }), point(12, means, { n: 16 })]).map(({ z }) => z)).toEqual([2, 1, 4]);
  expect(judge([point(12, singles, { n: 4 })])[0]?.z).toBe(2);
});

it.each([
  ['a missing mean', [...Array<SeriesPoint>(4).fill(point(11, means)), point(null, means, { n: 0 }), ...Array<SeriesPoint>(4).fill(point(11, means))]],
  ['a break', [...Array<SeriesPoint>(4).fill(point(11, means)), point(11, means, { breakBefore: true }), ...Array<SeriesPoint>(3).fill(point(11, means))]],
  ['new limits, even with the same numbers', [...Array<SeriesPoint>(4).fill(point(11, means)), ...Array<SeriesPoint>(4).fill(point(11, freeze({})))]],
  ['a stretch without limits', [...Array<SeriesPoint>(4).fill(point(11, means)), point(11, null), ...Array<SeriesPoint>(4).fill(point(11, means))]],
])('%s ends every run', (_, points) => {
  expect(fired(judge(points))).toEqual([]);
  expect(fired(judge(Array<SeriesPoint>(8).fill(point(11, means))))).toEqual(['mean eight-in-a-row above @7']);
});

it.each([
  ['eight-in-a-row', Array<number>(8).fill(0.5)], ['nine-in-a-row', Array<number>(9).fill(0.5)], ['six-in-a-trend', [-1, -0.6, -0.2, 0.2, 0.6, 1]],
  ['fourteen-alternating', Array.from({ length: 14 }, (_, i) => (i % 2 === 0 ? 1.5 : -0.5))], ['fifteen-inside', Array<number>(15).fill(0)],
  ['eight-outside', [1.5, -1.5, 1.5, 1.5, -1.5, 1.5, -1.5, 1.5]], ['two-of-three', [2.5, 2.5]], ['four-of-five', [1.5, 1.5, 1.5, 1.5]],
] as const)('%s: a change declared anywhere within the pattern empties what the rule remembers', (rule, z) => {
  const points = (changeAt: number | null) => z.map((one, i) => point(10 + one, means, { breakBefore: i === changeAt }));
  const whole = judgeSeries(Object.freeze(points(null)), [rule]).flatMap(({ firings }) => firings);
  expect(whole.map(({ index, firstIndex }) => [index, firstIndex])).toEqual([[z.length - 1, 0]]);
  expect(judgeSeries(points(0), [rule]).flatMap(({ firings }) => firings)).toEqual(whole);
  for (let at = 1; at < z.length; at += 1) expect(judgeSeries(points(at), [rule]).flatMap(({ firings }) => firings)).toEqual([]);
});

it('a spread beyond its limits is a signal of the spread chart, by rule 1 only', () => {
  const { spread } = limitsForSize(means, 4);
  const upper = spread?.upper ?? Number.NaN;
  const judged = judge([point(10, means, { spread: upper }), point(10, means, { spread: upper * 1.001 }), ...Array<SeriesPoint>(9).fill(point(10, means, { spread: upper * 0.99 }))]);
  expect(fired(judged)).toEqual(['spread beyond-limits above @1']);
  expect(judged.map(({ spreadBeyond }) => spreadBeyond).slice(0, 3)).toEqual([false, true, false]);
});

it('a spread too small for a large subgroup is beyond its lower limit', () => {
  expect(fired(judge([point(10, means, { n: 12, spread: 0.5 })]))).toEqual(['spread beyond-limits below @0']);
  expect(fired(judge([point(10, means, { n: 5, spread: 0 })]))).toEqual([]);
});

it('without rule 1 the spread is only reported', () => {
  const [judged] = judgeSeries([point(10, means, { spread: 99 })], ['two-of-three']);
  expect(judged).toEqual({ status: 'steady', z: 0, spreadBeyond: true, firings: [] });
});

it('a single reading on a chart of means is judged by its mean alone', () => {
  expect(judge([point(10, means, { n: 1, spread: 99 })])[0]).toEqual({ status: 'steady', z: 0, spreadBeyond: false, firings: [] });
});

it('the moving range of individuals is judged, and points back at the individual before', () => {
  const judged = judge([point(8.1, singles), point(11.9, singles)]);
  expect(judged[1]?.firings).toEqual([{ index: 1, rule: 'beyond-limits', side: 'above', firstIndex: 0, chart: 'spread' }]);
});

it.each([
  ['a gap', [point(8.1, singles), point(null, singles, { n: 0 }), point(11.9, singles)]],
  ['a break', [point(8.1, singles), point(11.9, singles, { breakBefore: true })]],
  ['new limits', [point(8.1, singles), point(11.9, freeze({ ...singles }))]],
  ['a point without limits', [point(8.1, null), point(11.9, singles)]],
])('no moving range reaches across %s', (_, points) => {
  expect(judge(points).some(({ spreadBeyond }) => spreadBeyond)).toBe(false);
});

it('every moving range is taken from the individual just before', () => {
  fc.assert(fc.property(fc.array(fc.option(fc.double({ min: 5, max: 15, noNaN: true }), { freq: 10 }), { maxLength: 40 }), (values) => {
    const upper = limitsForSize(singles, 1).spread?.upper ?? Number.NaN;
    const wide = movingRanges(values).map((range) => range !== null && range > upper);
    expect(judge(values.map((value) => point(value, singles))).map(({ spreadBeyond }) => spreadBeyond)).toEqual(wide);
  }));
});

it('the spread handed over with individuals is not looked at', () => {
  expect(judge([point(10, singles, { spread: 99 })])[0]?.spreadBeyond).toBe(false);
});

it('NaN is refused by name and place, in a mean, a spread or frozen limits', () => {
  expect(() => judge([point(10, means), point(Number.NaN, means)])).toThrow('the mean of point 2 is NaN');
  expect(() => judge([point(10, means, { spread: Number.POSITIVE_INFINITY })])).toThrow('the spread of point 1 is Infinity');
  expect(() => judge([point(10, freeze({ sigma: Number.NaN }))])).toThrow('positive sigma');
  expect(() => judge([point(10, means, { n: Number.NaN })])).toThrow('whole number of readings');
});

const rows = fc.array(fc.option(fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 6 }), { freq: 12 }), { minLength: 6, maxLength: 50 });

function judgeRows(data: readonly (readonly number[] | null)[], kind: LimitsBasis['kind'], move: (x: number) => number): JudgedPoint[] {
  const subgroups = data.map((row) => subgroupStatistics((row ?? []).map(move)));
  const limits = baselineLimits(kind, subgroups);
  // Judged against the first half's worth of sigma, so that signals do come about.
  return judge(pointsOf(subgroups, Object.freeze({ ...limits, sigma: limits.sigma * 0.6, spreadCentre: limits.spreadCentre * 0.6 })));
}

it.each(['xbar-r', 'xbar-s', 'i-mr'] as const)('on the %s chart shift and scale change no verdict; a mirror swaps the sides of the means', (kind) => {
  fc.assert(fc.property(rows, fc.constantFrom(2, 0.5, 0.0254, 37), fc.integer({ min: -500, max: 500 }), (data, a, b) => {
    const spread = data.filter((row) => row !== null && row.length > 1 && new Set(row).size > 1);
    fc.pre(kind === 'i-mr' || spread.length >= 2);
    const plainMeans = data.map((row) => (row === null ? null : row.reduce((s, x) => s + x, 0) / row.length));
    fc.pre(kind !== 'i-mr' || plainMeans.some((m, i) => m !== null && i > 0 && plainMeans[i - 1] !== null && Math.abs(m - (plainMeans[i - 1] ?? m)) > 1e-6));
    const plain = judgeRows(data, kind, (x) => x);
    const moved = judgeRows(data, kind, (x) => a * x + b);
    expect(fired(moved)).toEqual(fired(plain));
    expect(moved.map(({ status }) => status)).toEqual(plain.map(({ status }) => status));
    const swap = (text: string) => (text.startsWith('spread') ? text : text.replace(/above|below/, (side) => (side === 'above' ? 'below' : 'above')));
    expect(fired(judgeRows(data, kind, (x) => -x)).map(swap)).toEqual(fired(plain));
  }), { numRuns: 150 });
});

it('gives the means the same firings as the rules on their z values', () => {
  fc.assert(fc.property(fc.array(fc.option(fc.double({ min: 3, max: 17, noNaN: true }), { freq: 12 }), { maxLength: 60 }), (values) => {
    const judged = judgeSeries(Object.freeze(values.map((mean) => point(mean, means))), ALL_RULES);
    const z = judged.map((one) => one.z);
    expect(z.map((one) => one === null)).toEqual(values.map((one) => one === null));
    expect(judged.flatMap(({ firings }) => firings.map(({ chart: _, ...firing }) => firing))).toEqual(evaluateRules(z, ALL_RULES));
    expect(judged.every(({ status, firings }) => (status === 'signal') === firings.length > 0)).toBe(true);
  }));
});
