import type { SimulatedLineEvent } from './simulated.js';

export type Span = { from: number; until: number };

const stopping = new Set(['stop', 'wash-down', 'roll-change', 'tooling-set']);

/** Times at which a line makes no cans, by time and without overlap. Coil and wire changes run from the buffer. */
export function downtimeOf(events: readonly SimulatedLineEvent[]): Span[] {
  const spans = events
    .flatMap(({ kind, at, until }) => (stopping.has(kind) && until !== undefined ? [{ from: at, until }] : []))
    .sort((a, b) => a.from - b.from);
  const merged: Span[] = [];
  for (const span of spans) {
    const last = merged.at(-1);
    if (last !== undefined && span.from <= last.until) last.until = Math.max(last.until, span.until);
    else merged.push({ ...span });
  }
  return merged;
}

/** Milliseconds of `span` that no down time covers. */
export function upTime(span: Span, downtime: readonly Span[]): number {
  let up = span.until - span.from;
  for (const { from, until } of downtime) up -= Math.max(0, Math.min(until, span.until) - Math.max(from, span.from));
  return up;
}
