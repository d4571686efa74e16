import { gammaQuantile } from '#statistics/distributions/gamma';
import { normalQuantile } from '#statistics/distributions/normal';
import type { Annotations, Data, Layout, Shape } from 'plotly.js';
import type { AnswerOf } from '#contract/endpoint';
import type { histogramOfValues, probabilityPlotOfValues } from '#contract/workbench/capability';
import type { Specification } from '../form/specification.js';

type Histogram = AnswerOf<typeof histogramOfValues>;
type ProbabilityPlot = AnswerOf<typeof probabilityPlotOfValues>;
export type HistogramWords = { axis: string; count: string; bars: string; outside: string; fit: string; lsl: string; usl: string; target: string; bin: (low: number, high: number, count: number) => string };
export type ProbabilityWords = { axis: string; share: string; points: string; pointsOutside: string; line: string; band: string; point: (value: number, share: number, low: number, high: number) => string };

// Okabe and Ito 2008; bars are grey, since only what is outside is abnormal. Hatching and dashes survive a black-and-white print.
const GREY = '#8a96a0';
const INK = '#6b7780';
const VERMILION = '#d55e00';
const BLUE = '#0072b2';
const GREEN = '#009e73';

/** The readings with the specification and what the fitted distribution would put into each bin. */
export function histogramFigure({ edges, counts }: Histogram, expected: readonly number[] | null, { lsl, target, usl }: Specification, words: HistogramWords): { data: Data[]; layout: Partial<Layout> } {
  const bins = counts.map((count, index) => ({ low: edges[index] ?? 0, high: edges[index + 1] ?? 0, count }));
  const isOutside = ({ low, high }: { low: number; high: number }) => (lsl !== null && high <= lsl) || (usl !== null && low >= usl);
  const bars = (name: string, shown: typeof bins, color: string, shape: '' | '/'): Data => ({
    type: 'bar', name, x: shown.map(({ low, high }) => (low + high) / 2), y: shown.map(({ count }) => count), width: shown.map(({ low, high }) => high - low),
    marker: { color, line: { color: INK, width: 1 }, pattern: { shape } }, text: shown.map(({ low, high, count }) => words.bin(low, high, count)), textposition: 'none', hoverinfo: 'text',
  });
  const outside = bins.filter(isOutside);
  const marks = ([[lsl, words.lsl, 'solid'], [target, words.target, 'dot'], [usl, words.usl, 'solid']] as const).flatMap(([value, text, dash]) => (value === null ? [] : [{ value, text, dash }]));
  return {
    data: [
      bars(words.bars, bins.filter((bin) => !isOutside(bin)), GREY, ''),
      ...(outside.some(({ count }) => count > 0) ? [bars(words.outside, outside, VERMILION, '/')] : []),
      ...(expected ? [{ type: 'scatter', mode: 'lines', name: words.fit, x: bins.map(({ low, high }) => (low + high) / 2), y: [...expected], line: { color: BLUE, width: 2, shape: 'spline' }, hoverinfo: 'skip' } satisfies Data] : []),
    ],
    layout: {
      barmode: 'overlay', bargap: 0, showlegend: true, legend: { orientation: 'h', y: -0.28, x: 0 }, margin: { l: 64, r: 24, t: 32, b: 96 },
      xaxis: { title: { text: words.axis }, range: rangeOf([edges[0] ?? 0, edges.at(-1) ?? 1, ...marks.map(({ value }) => value)]), zeroline: false },
      yaxis: { title: { text: words.count }, rangemode: 'tozero', zeroline: true },
      shapes: marks.map(({ value, dash }): Partial<Shape> => ({ type: 'line', xref: 'x', yref: 'paper', x0: value, x1: value, y0: 0, y1: 1, line: { color: INK, width: 3, dash } })),
      annotations: marks.map(({ value, text }): Partial<Annotations> => ({ xref: 'x', yref: 'paper', x: value, y: 1, yanchor: 'bottom', text, showarrow: false })),
    },
  };
}

/** Shares at which the axis of a probability plot is labelled. */
const TICKS = [0.0001, 0.001, 0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99, 0.999, 0.9999];

/** Readings in rising order against the fitted distribution: on its line if it fits, with the band for each point. Points outside the band have a shape of their own. */
export function probabilityFigure(plot: ProbabilityPlot, words: ProbabilityWords): { data: Data[]; layout: Partial<Layout> } {
  const { fit, points } = plot;
  const isOutside = ({ value, low, high }: ProbabilityPlot['points'][number]) => value < low || value > high;
  const line = (name: string, x: number[], dash: 'solid' | 'dash', color: string): Data => ({ type: 'scatter', mode: 'lines', name, x, y: points.map(({ score }) => score), line: { color, width: 1.5, dash }, hoverinfo: 'skip' });
  const dots = (name: string, shown: typeof points, color: string, symbol: 'circle' | 'diamond'): Data => ({
    type: 'scatter', mode: 'markers', name, x: shown.map(({ value }) => value), y: shown.map(({ score }) => score), marker: { color, symbol, size: symbol === 'circle' ? 6 : 10 },
    text: shown.map(({ value, p, low, high }) => words.point(value, p, low, high)), hoverinfo: 'text',
  });
  const outside = points.filter(isOutside);
  const ticks = tickScores(plot);
  return {
    data: [
      line(words.line, points.map((point) => point.line), 'solid', BLUE), line(words.band, points.map(({ low }) => low), 'dash', GREEN), { ...line(words.band, points.map(({ high }) => high), 'dash', GREEN), showlegend: false },
      dots(words.points, points.filter((point) => !isOutside(point)), INK, 'circle'), ...(outside.length > 0 ? [dots(words.pointsOutside, outside, VERMILION, 'diamond')] : []),
    ],
    layout: {
      showlegend: true, legend: { orientation: 'h', y: -0.28, x: 0 }, margin: { l: 72, r: 24, t: 32, b: 96 }, hovermode: 'closest',
      // Logarithms of the readings make these two straight.
      xaxis: { title: { text: words.axis }, zeroline: false, type: fit.family === 'lognormal' || fit.family === 'weibull' ? 'log' : 'linear' }, yaxis: { title: { text: words.share }, zeroline: false, tickvals: ticks.map(({ score }) => score), ticktext: ticks.map(({ share }) => String(share * 100)) },
    },
  };
}

/** Where the labelled shares lie on the axis that makes the line straight, as far as there are points. */
export function tickScores({ fit, points }: Pick<ProbabilityPlot, 'fit' | 'points'>): { share: number; score: number }[] {
  const [first, last] = [points[0]?.p ?? 1, points.at(-1)?.p ?? 0];
  return TICKS.filter((share) => share >= first && share <= last).map((share) => ({ share, score: scoreOf(fit, share) }));
}

function scoreOf(fit: ProbabilityPlot['fit'], share: number): number {
  if (fit.family === 'weibull') return Math.log(-Math.log1p(-share));
  return fit.family === 'gamma' ? gammaQuantile(share, fit.shape, 1) : normalQuantile(share);
}

/** Everything that must be seen, with a twentieth of room at both ends. */
function rangeOf(values: readonly number[]): [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return [low - (high - low) * 0.05, high + (high - low) * 0.05];
}
