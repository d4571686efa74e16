import type { Annotations, Data, Layout } from 'plotly.js';
import type { AnswerOf } from '#contract/endpoint';
import type { chart } from '#contract/workbench/charts';

export type ChartAnswer = AnswerOf<typeof chart>;
export type Panel = ChartAnswer['panels'][number];
export type PanelWords = {
  axis: string; points: string;
  upper: (value: number) => string; centre: (value: number) => string; lower: (value: number) => string;
  /** What hovering over a point says. */
  point: (index: number) => string;
};

/** Above this many points a marker on each would hide the line; points that carry a signal always keep theirs. */
const MARKERS_UP_TO = 5000;
/** Above this many points the line is thinned to the extremes of each slice: no eye and no screen tells the difference. */
export const DRAWN_UP_TO = 20_000;

// Okabe and Ito 2008. Steady has no colour of its own: grey; each rule has its own shape.
const GREY = '#6b7780';
const VERMILION = '#d55e00';
const BLUE = '#0072b2';
export const RULE_SHAPES = {
  'beyond-limits': 'diamond', 'two-of-three': 'triangle-up', 'four-of-five': 'square', 'eight-in-a-row': 'star', 'nine-in-a-row': 'pentagon',
  'six-in-a-trend': 'triangle-right', 'fourteen-alternating': 'bowtie', 'fifteen-inside': 'hexagon', 'eight-outside': 'cross',
} as const;
export type Rule = keyof typeof RULE_SHAPES;
const URGENCY = Object.keys(RULE_SHAPES) as Rule[];

/** The panels of a chart below one another on one axis of points. It maps the answer and computes nothing. Limits only: what the customer allows has no place among means. */
export function workbenchChartFigure(panels: readonly Panel[], words: readonly PanelWords[], axis: string, selected: number | null): { data: Data[]; layout: Partial<Layout> } {
  const gap = 0.08;
  const height = (1 - gap * (panels.length - 1)) / panels.length;
  const axes = panels.map((_panel, place) => (place === 0 ? 'y' : `y${place + 1}`) as 'y');
  const length = panels[0]?.points.length ?? 0;
  return {
    data: panels.flatMap((panel, place) => { const said = words[place]; const yaxis = axes[place]; return said && yaxis ? panelTraces(panel, said, yaxis, selected) : []; }),
    layout: {
      margin: { l: 72, r: 140, t: 12, b: 44 }, hovermode: 'closest',
      xaxis: { title: { text: axis, font: { size: 12 } }, anchor: axes.at(-1) ?? 'y', showgrid: false, zeroline: false, range: [0.5 - length / 50, length + 0.5 + length / 50], ...(length <= 20 ? { dtick: 1 } : {}) },
      ...Object.fromEntries(panels.map((_panel, place) => {
        const top = 1 - place * (height + gap);
        return [place === 0 ? 'yaxis' : `yaxis${place + 1}`, { domain: [Math.max(0, top - height), top], title: { text: words[place]?.axis ?? '', font: { size: 11 } }, zeroline: false, automargin: true }];
      })),
      annotations: panels.flatMap((panel, place) => { const said = words[place]; const yref = axes[place]; return said && yref ? edgeLabels(panel, said, yref) : []; }),
    },
  };
}

function panelTraces(panel: Panel, words: PanelWords, yaxis: 'y', selected: number | null): Data[] {
  const { points } = panel;
  const drawn = thinned(points);
  const withMarkers = points.length <= MARKERS_UP_TO;
  const limit = (values: Panel['upper'], dash: 'solid' | 'dash'): Data[] => {
    if (values.every((value) => value === null)) return [];
    const line = stepLine(values);
    return [{ type: 'scatter', mode: 'lines', x: line.x, y: line.y, yaxis, hoverinfo: 'skip', connectgaps: false, line: { color: BLUE, width: 1.5, dash } }];
  };
  const rules = new Map<number, Rule>();
  for (const { index, rule } of panel.firings) {
    const known = rules.get(index);
    if (known === undefined || URGENCY.indexOf(rule) < URGENCY.indexOf(known)) rules.set(index, rule);
  }
  const flagged = [...rules.keys()].filter((index) => points[index] !== null);
  const chosen = selected !== null && points[selected] != null ? [selected] : [];
  return [
    ...limit(panel.upper, 'dash'), ...limit(panel.centre, 'solid'), ...limit(panel.lower, 'dash'),
    {
      type: 'scatter', mode: withMarkers ? 'lines+markers' : 'lines', name: words.points, x: drawn.map((index) => index + 1), y: drawn.map((index) => points[index] ?? null), yaxis, customdata: drawn, connectgaps: false,
      line: { color: GREY, width: 1.5 }, ...(withMarkers ? { marker: { size: 6, color: GREY }, text: drawn.map((index) => words.point(index)), hoverinfo: 'text' } : { hoverinfo: 'x+y' }),
    },
    ...(flagged.length === 0 ? [] : [{
      type: 'scatter', mode: 'markers', x: flagged.map((index) => index + 1), y: flagged.map((index) => points[index] ?? null), yaxis, customdata: flagged, text: flagged.map((index) => words.point(index)), hoverinfo: 'text',
      marker: { size: flagged.length > 400 ? 8 : 12, color: VERMILION, symbol: flagged.map((index) => RULE_SHAPES[rules.get(index) as Rule]), line: { width: 1, color: '#ffffff' } },
    } satisfies Data]),
    ...(chosen.length === 0 ? [] : [{ type: 'scatter', mode: 'markers', x: chosen.map((index) => index + 1), y: chosen.map((index) => points[index] ?? null), yaxis, hoverinfo: 'skip', marker: { symbol: 'circle-open', size: 18, color: BLUE, line: { width: 3, color: BLUE } } } satisfies Data]),
  ];
}

/** A line that holds its value for the width of a point; runs of one value keep their two ends only. */
export function stepLine(values: readonly (number | null)[]): { x: number[]; y: (number | null)[] } {
  const line: { x: number[]; y: (number | null)[] } = { x: [], y: [] };
  let start = 0;
  for (let index = 1; index <= values.length; index += 1) {
    if (index < values.length && values[index] === values[start]) continue;
    line.x.push(start + 0.5, index + 0.5);
    line.y.push(values[start] ?? null, values[start] ?? null);
    start = index;
  }
  return line;
}

/** The places that are drawn: all of them, or the first, lowest, highest and gap of each slice. */
export function thinned(values: readonly (number | null)[]): number[] {
  if (values.length <= DRAWN_UP_TO) return values.map((_value, index) => index);
  const width = Math.ceil(values.length / (DRAWN_UP_TO / 4));
  const kept: number[] = [];
  for (let start = 0; start < values.length; start += width) {
    const end = Math.min(values.length, start + width);
    let [low, high, hole] = [-1, -1, -1];
    for (let index = start; index < end; index += 1) {
      const value = values[index] ?? null;
      if (value === null) { hole = hole < 0 ? index : hole; continue; }
      if (low < 0 || value < (values[low] ?? value)) low = index;
      if (high < 0 || value > (values[high] ?? value)) high = index;
    }
    kept.push(...[...new Set([start, low, high, hole])].filter((index) => index >= 0).sort((a, b) => a - b));
  }
  return kept;
}

/** Centre line and limits of the last point that has them, with their values, at the right edge. */
function edgeLabels({ upper, centre, lower }: Panel, words: PanelWords, yref: 'y'): Partial<Annotations>[] {
  return ([[upper, words.upper], [centre, words.centre], [lower, words.lower]] as const).flatMap(([values, label]) => {
    const y = values.findLast((value) => value !== null) ?? null;
    return y === null ? [] : [{ xref: 'paper' as const, x: 1, xanchor: 'left' as const, xshift: 6, yref, y, yanchor: 'middle' as const, text: label(y), showarrow: false, font: { size: 12 } }];
  });
}
