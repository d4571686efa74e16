import type { Data, Layout } from 'plotly.js';
import type { Surrounding } from '#contract/incidents';
import type { TraceWindow } from '#contract/traces';
import type { Figure } from '../shared/plot.js';
import { RECORD_MARKS } from '../shared/record-marks.js';
import { keyOf, sourceOf } from './record-words.js';

export type Align = 'can' | 'clock';
type Words = { kind: (kind: Surrounding['kind']) => string; passed: string; hours: string; describe: (entry: Surrounding) => string; wall: (iso: string) => string };
const HOUR = 3_600_000;

/**
 * One row a machine from the first step to the last. Aligned by can, time counts from the middle of the moment in which the
 * complained cans passed that machine: what hit the same cans stands above each other, however long they were under way.
 * Entries of the whole line count from the coding step.
 */
export function timelineFigure(entries: readonly Surrounding[], windows: readonly TraceWindow[], codedAtStepId: number, align: Align, words: Words): Figure {
  const middleOf = (window: TraceWindow): number => (Date.parse(window.from) + Date.parse(window.until)) / 2;
  const coded = windows.find(({ stepId }) => stepId === codedAtStepId);
  const rows = windows.flatMap((window) => window.machines.map(({ id, code }) => ({ id, code, window })));
  const x = (iso: string, window: TraceWindow | undefined): string | number => (align === 'clock' ? words.wall(iso) : (Date.parse(iso) - (window ? middleOf(window) : 0)) / HOUR);
  const windowOf = (entry: Surrounding): TraceWindow | undefined => rows.find(({ id }) => id === entry.machineId)?.window ?? coded;
  const rowOf = (entry: Surrounding): string => entry.machine ?? rows.find(({ window }) => window === coded)?.code ?? '';
  const passed: Data = {
    type: 'scatter', mode: 'lines', name: words.passed, line: { width: 14, color: 'rgba(86,180,233,0.45)' }, hoverinfo: 'skip',
    x: rows.flatMap(({ window }) => [x(window.from, window), x(window.until, window), null]), y: rows.flatMap(({ code }) => [code, code, null]),
  };
  const marks = (['check', 'missed', 'event', 'signal'] as const).flatMap((kind): Data[] => {
    const own = entries.filter((entry) => entry.kind === kind);
    if (own.length === 0) return [];
    const { symbol, color, size } = RECORD_MARKS[kind];
    if (kind === 'missed') {
      const spans = own.flatMap((entry) => (entry.kind === 'missed' ? [{ x: [x(entry.at, windowOf(entry)), x(entry.until, windowOf(entry)), null], row: rowOf(entry) }] : []));
      return [{ type: 'scatter', mode: 'lines', name: words.kind(kind), x: spans.flatMap((span) => span.x), y: spans.flatMap(({ row }) => [row, row, null]), line: { color, width: 4, dash: 'dot' }, hoverinfo: 'skip' }];
    }
    return [{
      type: 'scatter', mode: 'markers', name: words.kind(kind), x: own.map((entry) => x(entry.at, windowOf(entry))), y: own.map(rowOf), text: own.map(words.describe), hoverinfo: 'text',
      customdata: own.map((entry) => sourceOf(entry) ?? keyOf(entry)), marker: { symbol, color, size, line: { width: 1.5, color } },
    }];
  });
  const layout: Partial<Layout> = {
    showlegend: true, legend: { orientation: 'h', y: 1.12 }, margin: { l: 80, r: 24, t: 40, b: 48 }, hovermode: 'closest',
    xaxis: align === 'clock' ? { type: 'date' } : { type: 'linear', title: { text: words.hours }, zeroline: true },
    yaxis: { type: 'category', categoryorder: 'array', categoryarray: rows.map(({ code }) => code).reverse(), range: [-0.6, Math.max(0, rows.length - 1) + 0.6] },
  };
  return { data: [passed, ...marks], layout };
}
