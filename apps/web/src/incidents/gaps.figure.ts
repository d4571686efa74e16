import type { Data, Layout } from 'plotly.js';
import type { ComplaintGaps } from '#contract/incident-life';
import type { Figure } from '../shared/plot.js';

type Words = { lower: string; centre: string; upper: string; axis: string; out: string };

/** Points in order, a broken line where a gap was not counted; limits named at the right edge, points beyond them in a shape of their own. Logarithmic: a gap may be a thousand times another. */
export function gapsFigure(points: readonly (number | null)[], labels: readonly string[], lines: NonNullable<ComplaintGaps['cansChart']>, words: Words): Figure {
  const out = new Set(lines.out.map(({ index }) => index));
  const places = points.map((_point, index) => index + 1);
  // Zero has no logarithm: it is drawn at the foot of the scale, and its label says 0.
  const positive = [...points, lines.lower, lines.centre, lines.upper].filter((value): value is number => value !== null && value > 0);
  const foot = Math.min(...positive) / 2;
  const y = points.map((point) => (point === null ? null : Math.max(point, foot)));
  const data: Data[] = [
    { type: 'scatter', mode: 'lines+markers', x: places, y, text: [...labels], hoverinfo: 'text', connectgaps: false, line: { color: '#0072B2', width: 1.5 }, marker: { symbol: points.map((_point, index) => (out.has(index) ? 'diamond' : 'circle')), size: points.map((_point, index) => (out.has(index) ? 14 : 9)), color: points.map((_point, index) => (out.has(index) ? '#D55E00' : '#0072B2')) } },
  ];
  const drawn = ([['lower', lines.lower, 'dash'], ['centre', lines.centre, 'solid'], ['upper', lines.upper, 'dash']] as const).flatMap(([name, value, dash]) => (value === null || !(value > 0) ? [] : [{ name, value, dash }]));
  const layout: Partial<Layout> = {
    margin: { l: 80, r: 180, t: 16, b: 44 }, hovermode: 'closest', xaxis: { dtick: Math.max(1, Math.ceil(points.length / 20)), range: [0.5, points.length + 0.5] }, yaxis: { type: 'log', title: { text: words.axis } },
    shapes: drawn.map(({ value, dash }) => ({ type: 'line', xref: 'paper', yref: 'y', x0: 0, x1: 1, y0: value, y1: value, line: { width: 1.5, dash, color: '#7f7f7f' } })),
    annotations: drawn.map(({ name, value }) => ({ xref: 'paper', yref: 'y', x: 1, y: Math.log10(value), text: words[name], showarrow: false, xanchor: 'left', yanchor: 'middle' })),
  };
  return { data, layout };
}
