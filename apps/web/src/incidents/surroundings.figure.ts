import type { Data, Layout } from 'plotly.js';
import type { Surrounding } from '#contract/incidents';
import type { Figure } from '../shared/plot.js';
import { RECORD_MARKS } from '../shared/record-marks.js';

type Words = { kind: (kind: Surrounding['kind']) => string; wholeLine: string; made: string; describe: (entry: Surrounding) => string };

export const rowOf = (entry: Surrounding, wholeLine: string): string => entry.machine ?? wholeLine;

/** One row a machine, in the order of the line; time as the plant's clocks show it; the moment the cans were made is a line across all rows. */
export function surroundingsFigure(entries: readonly Surrounding[], madeAt: string, rows: readonly string[], wall: (iso: string) => string, words: Words): Figure {
  const data = (['check', 'missed', 'event', 'signal'] as const).flatMap((kind): Data[] => {
    const own = entries.filter((entry) => entry.kind === kind);
    if (own.length === 0) return [];
    const { symbol, color, size } = RECORD_MARKS[kind];
    const spans = own.flatMap((entry): { x: (string | null)[]; y: (string | null)[] }[] => {
      const end = entry.kind === 'missed' ? entry.until : null;
      const row = rowOf(entry, words.wholeLine);
      return end === null ? [] : [{ x: [wall(entry.at), wall(end), null], y: [row, row, null] }];
    });
    const text = own.map(words.describe);
    if (kind === 'missed') return [{ type: 'scatter', mode: 'lines', name: words.kind(kind), x: spans.flatMap(({ x }) => x), y: spans.flatMap(({ y }) => y), line: { color, width: 4, dash: 'dot' }, hoverinfo: 'skip' }];
    return [{ type: 'scatter', mode: 'markers', name: words.kind(kind), x: own.map((entry) => wall(entry.at)), y: own.map((entry) => rowOf(entry, words.wholeLine)), text, hoverinfo: 'text', marker: { symbol, color, size, line: { width: 1.5, color } } }];
  });
  const made = wall(madeAt);
  const layout: Partial<Layout> = {
    showlegend: true, legend: { orientation: 'h', y: 1.12 }, margin: { l: 110, r: 24, t: 40, b: 40 }, hovermode: 'closest',
    xaxis: { type: 'date' }, yaxis: { type: 'category', categoryorder: 'array', categoryarray: [...rows].reverse(), range: [-0.6, Math.max(0, rows.length - 1) + 0.6] },
    shapes: [{ type: 'line', xref: 'x', yref: 'paper', x0: made, x1: made, y0: 0, y1: 1, line: { width: 2, dash: 'dash', color: '#7f7f7f' } }],
    annotations: [{ x: made, y: 0, xref: 'x', yref: 'paper', text: words.made, showarrow: false, xanchor: 'left', yanchor: 'bottom' }],
  };
  return { data, layout };
}
