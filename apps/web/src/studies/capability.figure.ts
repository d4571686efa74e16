import type { Annotations, Data, Layout, Shape } from 'plotly.js';
import type { CapabilityEntry, CapabilityStudy } from '#contract/studies';

export type FigureWords = { axis: string; count: string; bars: string; barsOutside: string; within: string; overall: string; lsl: string; usl: string; target: string; bin: (low: number, high: number, count: number) => string };
type Limits = Pick<NonNullable<CapabilityStudy['specification']['used']>, 'lsl' | 'target' | 'usl'>;

// Okabe and Ito 2008; bars are grey, since only what is outside is abnormal. Hatching and dashes survive a black-and-white print.
const GREY = '#8a96a0';
const VERMILION = '#d55e00';
const BLUE = '#0072b2';
const GREEN = '#009e73';
const INK = '#6b7780';

/** Histogram of the members with the specification and what the server fitted: it maps the answer and computes nothing. */
export function capabilityFigure(histogram: NonNullable<CapabilityEntry['histogram']>, limits: Limits | null, words: FigureWords): { data: Data[]; layout: Partial<Layout> } {
  const { edges, counts, curves } = histogram;
  const bins = counts.map((count, index) => ({ low: edges[index] as number, high: edges[index + 1] as number, count }));
  const isOutside = ({ low, high }: { low: number; high: number }) => limits !== null && ((limits.lsl !== null && high <= limits.lsl) || (limits.usl !== null && low >= limits.usl));
  const bars = (name: string, shown: typeof bins, colour: string, pattern: '' | '/'): Data => ({
    type: 'bar', name, x: shown.map(({ low, high }) => (low + high) / 2), y: shown.map(({ count }) => count), width: shown.map(({ low, high }) => high - low),
    marker: { color: colour, line: { color: INK, width: 1 }, pattern: { shape: pattern } }, text: shown.map(({ low, high, count }) => words.bin(low, high, count)), textposition: 'none', hoverinfo: 'text',
  });
  const outside = bins.filter(isOutside);
  const curve = (name: string, points: { x: number[]; count: number[] } | null, colour: string, dash: 'solid' | 'dash'): Data[] => (points === null ? [] : [
    { type: 'scatter', mode: 'lines', name, x: points.x, y: points.count, line: { color: colour, width: 2, dash }, hoverinfo: 'skip' },
  ]);
  const marks = limits === null ? [] : ([[limits.lsl, words.lsl, 'solid'], [limits.target, words.target, 'dot'], [limits.usl, words.usl, 'solid']] as const)
    .flatMap(([value, text, dash]) => (value === null ? [] : [{ value, text, dash }]));
  return {
    data: [
      bars(words.bars, bins.filter((bin) => !isOutside(bin)), GREY, ''),
      ...(outside.some(({ count }) => count > 0) ? [bars(words.barsOutside, outside, VERMILION, '/')] : []),
      ...curve(words.within, curves.within, GREEN, 'dash'), ...curve(words.overall, curves.overall, BLUE, 'solid'),
    ],
    layout: {
      barmode: 'overlay', bargap: 0, showlegend: true, legend: { orientation: 'h', y: -0.22, x: 0 }, margin: { l: 64, r: 24, t: 32, b: 48 },
      xaxis: { title: { text: words.axis }, range: rangeOf([...edges, ...marks.map(({ value }) => value)]), zeroline: false },
      yaxis: { title: { text: words.count }, rangemode: 'tozero', zeroline: true },
      shapes: marks.map(({ value, dash }): Partial<Shape> => ({ type: 'line', xref: 'x', yref: 'paper', x0: value, x1: value, y0: 0, y1: 1, line: { color: INK, width: 3, dash } })),
      annotations: marks.map(({ value, text }): Partial<Annotations> => ({ xref: 'x', yref: 'paper', x: value, y: 1, yanchor: 'bottom', text, showarrow: false })),
    },
  };
}

/** Everything that must be seen, with a twentieth of room at both ends. */
function rangeOf(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low) * 0.05;
  return [low - room, high + room];
}
