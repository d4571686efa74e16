import { expect, it } from 'vitest';
import { signalGroups } from './signal-groups.js';
import { stepPanelPoint } from './step-panel-point.js';
import { DRAWN_UP_TO, type Panel, type PanelWords, stepLine, thinned, workbenchChartFigure } from './workbench-chart.figure.js';

const panel = (points: (number | null)[], given: Partial<Panel> = {}): Panel => ({
  statistic: 'mean', points, centre: points.map(() => 10), lower: points.map(() => 7), upper: points.map(() => 13), sigma: points.map(() => 1), out: [], rules: ['beyond-limits'], firings: [], ...given,
});
const symbolOf = (trace: object): unknown => ('marker' in trace && typeof trace.marker === 'object' && trace.marker !== null && 'symbol' in trace.marker ? trace.marker.symbol : undefined);
const words: PanelWords = { axis: 'Mean (mm)', points: 'means', upper: (value) => `UL ${value}`, centre: (value) => `CL ${value}`, lower: (value) => `LL ${value}`, point: (index) => `point ${index + 1}` };

it('draws each panel with its limits, their values at the right edge, and signal points in the shape of their most urgent rule', () => {
  const firings: Panel['firings'] = [{ index: 2, rule: 'two-of-three', side: 'above', firstIndex: 0 }, { index: 2, rule: 'beyond-limits', side: 'above', firstIndex: 2 }, { index: 3, rule: 'four-of-five', side: 'above', firstIndex: 0 }];
  const { data, layout } = workbenchChartFigure([panel([12.5, null, 14, 12], { firings }), panel([1, null, 2, 3], { lower: [null, null, null, null] })], [words, words], 'Subgroup', 3);
  const flags = data.filter((trace) => Array.isArray(symbolOf(trace)));
  expect(flags).toHaveLength(1);
  expect(flags[0]).toMatchObject({ x: [3, 4], y: [14, 12], customdata: [2, 3], text: ['point 3', 'point 4'], marker: { symbol: ['diamond', 'square'] } });
  expect(layout.annotations?.map(({ text, yref }) => [text, yref])).toEqual([['UL 13', 'y'], ['CL 10', 'y'], ['LL 7', 'y'], ['UL 13', 'y2'], ['CL 10', 'y2']]);
  expect(data.filter((trace) => symbolOf(trace) === 'circle-open')).toHaveLength(2);
});

it('draws limits that step as steps, and runs of one value by their ends', () => {
  expect(stepLine([3, 3, 3, 4, null, null])).toEqual({ x: [0.5, 3.5, 3.5, 4.5, 4.5, 6.5], y: [3, 3, 4, 4, null, null] });
  expect(stepLine([])).toEqual({ x: [], y: [] });
});

it('thins a million points to what a screen can show, and keeps the extremes and the gaps', () => {
  const values: (number | null)[] = Array.from({ length: 1_000_000 }, (_none, index) => ((index * 7919) % 10_007) / 10_007);
  values[123_456] = 9;
  values[654_321] = -9;
  values[500_000] = null;
  const kept = thinned(values);
  expect(kept.length).toBeLessThanOrEqual(DRAWN_UP_TO + 4);
  for (const index of [0, 123_456, 654_321, 500_000]) expect(kept).toContain(index);
  expect(kept.every((index, place) => place === 0 || index > (kept[place - 1] ?? -1))).toBe(true);
  expect(thinned([1, null, 2])).toEqual([0, 1, 2]);
});

it('joins firings of overlapping patterns into one signal, and keeps rules, sides and panels apart', () => {
  const run = (from: number, to: number): Panel['firings'] => Array.from({ length: to - from + 1 }, (_none, place) => ({ index: from + place, rule: 'eight-in-a-row' as const, side: 'above' as const, firstIndex: from + place - 7 }));
  const spread: Panel['firings'] = [{ index: 4, rule: 'beyond-limits', side: 'above', firstIndex: 4 }, { index: 6, rule: 'beyond-limits', side: 'above', firstIndex: 6 }, { index: 7, rule: 'beyond-limits', side: 'below', firstIndex: 7 }];
  expect(signalGroups([panel([], { firings: [...run(7, 20), ...run(60, 60)] }), panel([], { firings: spread })])).toEqual([
    { panel: 1, rule: 'beyond-limits', side: 'above', first: 4, fired: 4, last: 4, count: 1 },
    { panel: 1, rule: 'beyond-limits', side: 'above', first: 6, fired: 6, last: 6, count: 1 },
    { panel: 0, rule: 'eight-in-a-row', side: 'above', first: 0, fired: 7, last: 20, count: 14 },
    { panel: 1, rule: 'beyond-limits', side: 'below', first: 7, fired: 7, last: 7, count: 1 },
    { panel: 0, rule: 'eight-in-a-row', side: 'above', first: 53, fired: 60, last: 60, count: 1 },
  ]);
});

it('steps by keyboard from point to point and from signal to signal, skipping gaps', () => {
  const panels = [panel([1, null, 2, 3, 4], { firings: [{ index: 3, rule: 'beyond-limits', side: 'above', firstIndex: 3 }] })];
  expect(['first', 'last', 'next', 'previous', 'nextFlagged', 'previousFlagged'].map((step) => stepPanelPoint(panels, 0, step as 'first'))).toEqual([0, 4, 2, null, 3, null]);
  expect(stepPanelPoint(panels, null, 'next')).toBe(0);
  expect(stepPanelPoint(panels, null, 'nextFlagged')).toBe(3);
  expect(stepPanelPoint(panels, 4, 'next')).toBeNull();
});
