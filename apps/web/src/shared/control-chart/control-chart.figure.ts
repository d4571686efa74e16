import type { Annotations, Data, Layout, Shape } from 'plotly.js';
import type { ChartView } from '#contract/specifications';
import { brokenLine, linesOfPoints, type PointLines } from './chart-lines.js';
import { stretchesOf, thinPoints } from './thin-points.js';

export type ChartWords = {
  mean: string; spread: string; events: string;
  /** Labels at the right edge, with the value. */
  upper: (value: number) => string; centre: (value: number) => string; lower: (value: number) => string;
  /** What hovering over a point says: its moment, numbers, state and rules. */
  point: (index: number) => string;
  event: (index: number) => string;
};
/** `seen`: the part of the time axis that a person zoomed to, on the plant's clocks. */
export type ChartOptions = { zones?: boolean; seen?: readonly [string, string] | null; selected?: number | null; baseline?: { from: string; to: string } | null; excluded?: readonly number[] };

/** Above this many points a marker on each would hide the line, and the line is thinned to what a screen shows; points that carry a signal are always there, with their marker. */
export const MARKERS_UP_TO = 5000;
const PARTS_SEEN = 1000;
const PARTS_BESIDE = 100;

// Okabe and Ito 2008. Steady has no colour of its own: grey. Each rule has its own shape, so that a print in black and white tells them apart.
const GREY = '#6b7780';
const PALE = '#9aa5ae';
const VERMILION = '#d55e00';
const BLUE = '#0072b2';
export const RULE_SHAPES = { 'beyond-limits': 'diamond', 'two-of-three': 'triangle-up', 'four-of-five': 'square', 'eight-in-a-row': 'star', 'nine-in-a-row': 'pentagon', 'six-in-a-trend': 'triangle-right', 'fourteen-alternating': 'bowtie', 'fifteen-inside': 'hexagon', 'eight-outside': 'cross' } as const;
type Rule = keyof typeof RULE_SHAPES;
const URGENCY: readonly Rule[] = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row', 'nine-in-a-row', 'six-in-a-trend', 'eight-outside', 'fourteen-alternating', 'fifteen-inside'];

/** Means over spreads on one time axis, events as ticks below it. `wall` are the moments on the plant's clocks. It maps the view and computes nothing. */
export function controlChartFigure(view: ChartView, wall: { points: readonly string[]; events: readonly string[] }, words: ChartWords, options: ChartOptions = {}): { data: Data[]; layout: Partial<Layout> } {
  const { points, firings } = view;
  const lines = linesOfPoints(view);
  const count = points.takenAt.length;
  const withMarkers = count <= MARKERS_UP_TO;
  // A sentence costs more than a point: made once, and only for those that are drawn.
  const said = new Map<number, string>();
  const text = (index: number): string => { const known = said.get(index) ?? words.point(index); said.set(index, known); return known; };
  const stretches = withMarkers ? [] : stretchesOf(wall.points, options.seen ?? null, PARTS_SEEN, PARTS_BESIDE);
  const always = [...firings.map(({ index }) => index), ...(options.excluded ?? []), ...(typeof options.selected === 'number' ? [options.selected] : [])];
  const shown = (values: readonly (number | null)[]) => (withMarkers ? points.takenAt.map((_moment, index) => index) : thinPoints(values, always, stretches));
  const series = (values: readonly (number | null)[], yaxis: 'y' | 'y2', name: string): Data => {
    const places = shown(values);
    return {
      type: 'scatter', mode: withMarkers ? 'lines+markers' : 'lines', name, x: places.map((index) => wall.points[index] ?? null), y: places.map((index) => values[index] ?? null), yaxis, customdata: places, text: places.map(text), hoverinfo: 'text', connectgaps: false,
      line: { color: GREY, width: 1.5 },
      ...(withMarkers ? { marker: { size: 6, color: GREY, symbol: points.status.map((status) => (status === 'not-judged' ? 'circle-open' : 'circle')) } } : {}),
    };
  };
  const limitLine = (name: string, pick: (entry: PointLines) => number | null, yaxis: 'y' | 'y2', dash: 'solid' | 'dash' | 'dot'): Data[] => {
    const values = lines.map(pick);
    if (values.every((value) => value === null)) return [];
    const { x, y } = brokenLine(wall.points, values, points.limitsId);
    return [{ type: 'scatter', mode: 'lines', name, x, y, yaxis, hoverinfo: 'skip', connectgaps: false, line: { color: dash === 'dot' ? PALE : BLUE, width: dash === 'dot' ? 1 : 1.5, dash, shape: 'hvh' } }];
  };
  const zones = options.zones ? [-2, -1, 1, 2].flatMap((step) => limitLine(`zone ${step}`, ({ mean }) => (mean === null ? null : mean.centre + step * mean.sigma), 'y', 'dot')) : [];
  return {
    data: [
      ...zones,
      ...limitLine('upper mean', ({ mean }) => mean?.upper ?? null, 'y', 'dash'), ...limitLine('centre mean', ({ mean }) => mean?.centre ?? null, 'y', 'solid'), ...limitLine('lower mean', ({ mean }) => mean?.lower ?? null, 'y', 'dash'),
      ...limitLine('upper spread', ({ spread }) => spread?.upper ?? null, 'y2', 'dash'), ...limitLine('centre spread', ({ spread }) => spread?.centre ?? null, 'y2', 'solid'), ...limitLine('lower spread', ({ spread }) => spread?.lower ?? null, 'y2', 'dash'),
      series(points.mean, 'y', words.mean), series(points.spread, 'y2', words.spread),
      ...flags(firings, 'mean', points.mean, wall.points, text), ...flags(firings, 'spread', points.spread, wall.points, text),
      ...marked('excluded', options.excluded ?? [], points.mean, wall.points, { symbol: 'x-thin', size: 14, color: GREY, line: { width: 3, color: GREY } }),
      ...marked('selected', options.selected === null || options.selected === undefined ? [] : [options.selected], points.mean, wall.points, { symbol: 'circle-open', size: 18, color: BLUE, line: { width: 3, color: BLUE } }),
      ...(wall.events.length > 0 ? [{ type: 'scatter', mode: 'markers', name: words.events, x: [...wall.events], y: wall.events.map(() => 0), yaxis: 'y3', text: wall.events.map((_at, index) => words.event(index)), hoverinfo: 'text', marker: { symbol: 'line-ns', size: 14, color: GREY, line: { width: 2, color: GREY } } } satisfies Data] : []),
    ],
    layout: {
      margin: { l: 72, r: 132, t: 12, b: 12 }, hovermode: 'closest',
      // Redrawing the same chart keeps what a person zoomed to.
      uirevision: `${view.stream.id} ${points.takenAt[0] ?? ''} ${count}`,
      xaxis: { type: 'date', anchor: 'y2', showgrid: false, zeroline: false, automargin: true, ...timeRange(wall) },
      yaxis: { domain: [0.5, 1], title: { text: words.mean, font: { size: 11 } }, zeroline: false, automargin: true },
      yaxis2: { domain: [0.18, 0.44], title: { text: words.spread, font: { size: 11 } }, rangemode: 'tozero', zeroline: false, automargin: true },
      yaxis3: { domain: [0, 0.06], range: [-1, 1], fixedrange: true, showgrid: false, zeroline: false, showticklabels: false },
      shapes: options.baseline ? [{ type: 'rect', xref: 'x', yref: 'paper', x0: options.baseline.from, x1: options.baseline.to, y0: 0.18, y1: 1, fillcolor: BLUE, opacity: 0.08, line: { width: 1, color: BLUE, dash: 'dot' } } satisfies Partial<Shape>] : [],
      annotations: [...edgeLabels(lines, ({ mean }) => mean, 'y', words), ...edgeLabels(lines, ({ spread }) => spread, 'y2', words)],
    },
  };
}

// Wall clocks are drawn as if they were UTC, which is how the time axis reads them.
const utc = (wall: string): number => Date.parse(wall.endsWith('Z') ? wall : `${wall}Z`);

/** From the first point to the last point or event, with a fiftieth of room, so that no marker is cut off. */
function timeRange({ points, events }: { points: readonly string[]; events: readonly string[] }): { range?: [string, string] } {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < 2) return {};
  const start = utc(first);
  const end = Math.max(utc(last), ...events.slice(-1).map((at) => utc(at)));
  const room = (end - start) / 50;
  // As text: the axis takes a number for a moment on the clock of the browser, which is not the plant's.
  const text = (moment: number) => new Date(moment).toISOString().slice(0, -1);
  return end > start ? { range: [text(start - room), text(end + room)] } : {};
}

/** One marker a point, in the shape of its most urgent rule; the text names them all. */
function flags(firings: ChartView['firings'], chart: 'mean' | 'spread', values: readonly (number | null)[], x: readonly string[], text: (index: number) => string): Data[] {
  const rules = new Map<number, Rule>();
  for (const { index, rule, chart: on } of firings) {
    const known = rules.get(index);
    if (on === chart && (known === undefined || URGENCY.indexOf(rule) < URGENCY.indexOf(known))) rules.set(index, rule);
  }
  if (rules.size === 0) return [];
  const places = [...rules.keys()];
  return [{
    type: 'scatter', mode: 'markers', name: `signal ${chart}`, x: places.map((index) => x[index] ?? null), y: places.map((index) => values[index] ?? null), yaxis: chart === 'mean' ? 'y' : 'y2',
    customdata: places, text: places.map(text), hoverinfo: 'text', marker: { size: 12, color: VERMILION, symbol: places.map((index) => RULE_SHAPES[rules.get(index) as Rule]), line: { width: 1, color: '#ffffff' } },
  }];
}

function marked(name: string, places: readonly number[], values: readonly (number | null)[], x: readonly string[], marker: object): Data[] {
  return places.length === 0 ? [] : [{ type: 'scatter', mode: 'markers', name, x: places.map((index) => x[index] ?? null), y: places.map((index) => values[index] ?? null), hoverinfo: 'skip', marker }];
}

/** Centre line and limits of the newest judged point, with their values, at the right edge. */
function edgeLabels(lines: readonly PointLines[], pick: (entry: PointLines) => { lower: number; centre: number; upper: number } | null, yref: 'y' | 'y2', words: ChartWords): Partial<Annotations>[] {
  const newest = lines.findLast((entry) => pick(entry) !== null);
  const band = newest && pick(newest);
  if (!band) return [];
  return ([[band.upper, words.upper], [band.centre, words.centre], [band.lower, words.lower]] as const)
    .map(([y, label]) => ({ xref: 'paper', x: 1, xanchor: 'left', xshift: 6, yref, y, yanchor: 'middle', text: label(y), showarrow: false, font: { size: 13 } }));
}
