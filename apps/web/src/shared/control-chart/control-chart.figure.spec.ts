import { expect, it } from 'vitest';
import type { ChartView } from '#contract/specifications';
import { type ChartWords, controlChartFigure, MARKERS_UP_TO } from './control-chart.figure.js';

const words: ChartWords = { mean: 'mean (mm)', spread: 'range (mm)', events: 'events', upper: (value) => `upper ${value}`, centre: (value) => `centre ${value}`, lower: (value) => `lower ${value}`, point: (index) => `point ${index}`, event: (index) => `event ${index}` };
const moment = (index: number) => new Date(Date.UTC(2026, 2, 1, 8) + index * 1_800_000).toISOString();

type Points = ChartView['points'];
function view(chartKind: ChartView['stream']['chartKind'], means: (number | null)[], more: { limitsId?: (number | null)[]; n?: number[]; spread?: (number | null)[]; firings?: ChartView['firings']; limits?: ChartView['limits']; events?: ChartView['events']; status?: Points['status'] } = {}): ChartView {
  const limitsId = more.limitsId ?? means.map(() => 1);
  return {
    stream: {
      id: 1, line: { id: 1, code: 'L', name: 'Line' }, machine: { id: 1, code: 'M', name: 'Machine', stepKind: 'seamer' }, unit: null, lane: null, product: { id: 1, code: 'P', name: 'Can' },
      characteristic: { id: 1, code: 'c', name: 'Body hook', unit: 'mm', decimals: 2, gaugeStep: 0.01, formula: null }, chartKind, basis: 'can', rules: ['beyond-limits'], revision: 1,
    },
    points: {
      takenAt: means.map((_mean, index) => moment(index)), sequence: means.map(() => 1), n: more.n ?? means.map(() => 4), mean: means, spread: more.spread ?? means.map(() => 0.1), limitsId,
      status: more.status ?? means.map((mean, index) => (mean === null || limitsId[index] === null ? 'not-judged' : 'steady')),
    },
    older: false, firings: more.firings ?? [], limits: more.limits ?? [limits(1, chartKind)], events: more.events ?? [],
  };
}
function limits(id: number, kind: ChartView['stream']['chartKind'], centre = 1.75, sizes = [4]): ChartView['limits'][number] {
  return {
    id, kind, centre, sigma: 0.06, spreadCentre: 0.12, subgroups: 25, readings: 100, baselineFrom: moment(0), baselineTo: moment(1), effectiveFrom: moment(0), formula: null, excluded: [], author: 'Test engineer', reason: 'test', createdAt: moment(1),
    bySize: sizes.map((n) => { const sigma = 0.06 / Math.sqrt(n); return { n, mean: { lower: centre - 3 * sigma, centre, upper: centre + 3 * sigma, sigma }, spread: n === 1 && kind !== 'i-mr' ? null : { lower: 0, centre: 0.12, upper: 0.28 } }; }),
  };
}
const draw = (of: ChartView, options = {}) => controlChartFigure(of, { points: of.points.takenAt, events: of.events.map(({ at }) => at) }, words, options);
const trace = (figure: ReturnType<typeof draw>, name: string) => figure.data.find((entry) => entry.name === name) as { x: unknown[]; y: unknown[]; yaxis?: string; mode?: string; text?: string[]; marker?: { symbol: unknown } } | undefined;

it('draws means over ranges on one time axis, with the values of centre and limits at the right edge', () => {
  const figure = draw(view('xbar-r', [1.7, 1.8, 1.75]));
  expect(trace(figure, 'mean (mm)')).toMatchObject({ y: [1.7, 1.8, 1.75], yaxis: 'y', mode: 'lines+markers' });
  expect(trace(figure, 'range (mm)')).toMatchObject({ y: [0.1, 0.1, 0.1], yaxis: 'y2' });
  expect(trace(figure, 'mean (mm)')?.x).toEqual(trace(figure, 'range (mm)')?.x);
  expect(figure.layout.annotations?.map(({ text, yref }) => [text, yref])).toEqual([['upper 1.84', 'y'], ['centre 1.75', 'y'], ['lower 1.66', 'y'], ['upper 0.28', 'y2'], ['centre 0.12', 'y2'], ['lower 0', 'y2']]);
});

it('draws means over sds with the limits of each size of subgroup', () => {
  const figure = draw(view('xbar-s', [1.7, 1.8, 1.75], { n: [4, 1, 4], spread: [0.05, null, 0.06], limits: [limits(1, 'xbar-s', 1.75, [1, 4])] }));
  const upper = trace(figure, 'upper mean')?.y as number[];
  expect(upper.map((value) => Number(value.toFixed(4)))).toEqual([1.84, 1.93, 1.84]);
  expect(trace(figure, 'upper spread')?.y).toEqual([0.28, null, 0.28]);
});

it('draws individuals over moving ranges, a gap staying a gap', () => {
  const figure = draw(view('i-mr', [1.7, null, 1.75], { n: [1, 0, 1], spread: [null, null, null], limits: [limits(1, 'i-mr', 1.75, [1])] }));
  expect(trace(figure, 'mean (mm)')).toMatchObject({ y: [1.7, null, 1.75], connectgaps: false });
  expect(trace(figure, 'upper mean')?.y[1]).toBeNull();
});

it('marks each point that carries a signal by its most urgent rule, on the chart where it fired', () => {
  const firing = (index: number, rule: ChartView['firings'][number]['rule'], chart: 'mean' | 'spread' = 'mean'): ChartView['firings'][number] => ({ index, chart, rule, side: 'above', signalId: 5, signalState: 'open' });
  const figure = draw(view('xbar-r', [1.7, 1.9, 1.75], { firings: [firing(1, 'eight-in-a-row'), firing(1, 'beyond-limits'), firing(2, 'two-of-three'), firing(0, 'beyond-limits', 'spread')] }));
  expect(trace(figure, 'signal mean')).toMatchObject({ y: [1.9, 1.75], marker: { symbol: ['diamond', 'triangle-up'] }, text: ['point 1', 'point 2'] });
  expect(trace(figure, 'signal spread')).toMatchObject({ y: [0.1], yaxis: 'y2' });
});

it('says by its shape that a point was not judged, and draws no limits where there are none', () => {
  const figure = draw(view('xbar-r', [1.7, 1.8], { limitsId: [null, null], limits: [] }));
  expect(trace(figure, 'mean (mm)')?.marker?.symbol).toEqual(['circle-open', 'circle-open']);
  expect([trace(figure, 'upper mean'), figure.layout.annotations]).toEqual([undefined, []]);
});

it('breaks the limits where others begin, and labels those of the newest point', () => {
  const figure = draw(view('xbar-r', [1.7, 1.7, 2, 2], { limitsId: [1, 1, 2, 2], limits: [limits(1, 'xbar-r'), limits(2, 'xbar-r', 2)] }));
  expect(trace(figure, 'centre mean')?.y).toEqual([1.75, 1.75, null, 2, 2]);
  expect(figure.layout.annotations?.[1]?.text).toBe('centre 2');
});

it('adds zones only on demand, and puts events as ticks under the time axis', () => {
  const events: ChartView['events'] = [{ id: 1, kind: 'coil-change', at: moment(1), until: null, text: 'new coil', machine: 'M' }];
  const of = view('xbar-r', [1.7, 1.8], { events });
  const zoneNames = (figure: ReturnType<typeof draw>) => figure.data.filter(({ name }) => name?.startsWith('zone')).length;
  expect([zoneNames(draw(of)), zoneNames(draw(of, { zones: true }))]).toEqual([0, 4]);
  expect(trace(draw(of), 'events')).toMatchObject({ x: [moment(1)], yaxis: 'y3', text: ['event 0'], marker: { symbol: 'line-ns' } });
  expect(draw(of).layout.yaxis3?.domain?.[1]).toBeLessThan(draw(of).layout.yaxis2?.domain?.[0] as number);
});

it('draws no marker on each of very many points, but still on those that carry a signal', () => {
  const many = Array.from({ length: MARKERS_UP_TO + 1 }, (_none, index) => 1.75 + (index % 2) / 100);
  const figure = draw(view('xbar-r', many, { firings: [{ index: 77, chart: 'mean', rule: 'four-of-five', side: 'below', signalId: 1, signalState: 'closed' }] }));
  expect(trace(figure, 'mean (mm)')?.mode).toBe('lines');
  expect(trace(figure, 'signal mean')).toMatchObject({ y: [many[77]], marker: { symbol: ['square'] } });
});

it('shades the baseline and strikes out what is excluded', () => {
  const figure = draw(view('xbar-r', [1.7, 1.8, 1.9]), { baseline: { from: moment(0), to: moment(1) }, excluded: [1], selected: 2 });
  expect(figure.layout.shapes?.[0]).toMatchObject({ x0: moment(0), x1: moment(1) });
  expect([trace(figure, 'excluded')?.y, trace(figure, 'selected')?.y]).toEqual([[1.8], [1.9]]);
});

it('shows the time from the first to the last point or event, with a little room', () => {
  const range = (events: ChartView['events']) => {
    const texts = draw(view('xbar-r', [1.7, 1.8, 1.9], { events })).layout.xaxis?.range as [string, string];
    for (const text of texts) expect(text).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+$/);
    return texts.map((text) => Date.parse(`${text}Z`)) as [number, number];
  };
  const [start, end] = range([]);
  expect([start < Date.parse(moment(0)), end > Date.parse(moment(2)), end - start < 1.1 * (Date.parse(moment(2)) - Date.parse(moment(0)))]).toEqual([true, true, true]);
  expect(range([{ id: 1, kind: 'stop', at: moment(9), until: null, text: 'stop', machine: null }])[1]).toBeGreaterThan(Date.parse(moment(9)));
  expect(draw(view('xbar-r', [1.7])).layout.xaxis?.range).toBeUndefined();
});

it('thins a year to what a screen shows without hiding a signal or an extreme, and shows every point of what a person zooms to', () => {
  const many = Array.from({ length: 17_520 }, (_none, index) => 1.75 + Math.sin(index * 7.3) / 100);
  const spread = many.map((_mean, index) => 0.1 + Math.cos(index * 3.1) / 50);
  many[9001] = 2.5;
  spread[4002] = 0.9;
  const of = view('xbar-r', many, { spread, firings: [12, 13, 14, 9001].map((index) => ({ index, chart: 'mean' as const, rule: 'beyond-limits' as const, side: 'above' as const, signalId: 1, signalState: 'open' as const })) });
  let sentences = 0;
  const wall = { points: of.points.takenAt.map((at) => at.slice(0, 19)), events: [] };
  const said = (options = {}) => controlChartFigure(of, wall, { ...words, point: (index) => { sentences += 1; return `point ${index}`; } }, options);
  const shown = (figure: ReturnType<typeof draw>, name: string) => (figure.data.find((entry) => entry.name === name) as { customdata: number[] }).customdata;
  const year = said();
  expect(shown(year, 'mean (mm)')).toEqual(expect.arrayContaining([0, 12, 13, 14, 9001, 17_519]));
  expect(shown(year, 'range (mm)')).toContain(4002);
  expect(shown(year, 'mean (mm)').length).toBeLessThanOrEqual(4004);
  expect(sentences).toBeLessThanOrEqual(8010);
  const near = shown(said({ seen: [wall.points[5000], wall.points[5600]] }), 'mean (mm)');
  expect(near.filter((index) => index >= 5000 && index <= 5600)).toHaveLength(601);
  expect(near).toEqual(expect.arrayContaining([0, 12, 13, 14, 9001, 17_519]));
});
