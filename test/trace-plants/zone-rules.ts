import type { TracedSignal, TracedStream } from '#tracing/evidence';

type Rule = { readonly name: string; readonly of: number; readonly least: number; readonly beyond: number };
/** The four zone rules (Western Electric, Statistical Quality Control Handbook, 1956), as counts beyond a line. */
const rules: readonly Rule[] = [
  { name: 'beyond-limits', of: 1, least: 1, beyond: 3 },
  { name: 'two-of-three', of: 3, least: 2, beyond: 2 },
  { name: 'four-of-five', of: 5, least: 4, beyond: 1 },
  { name: 'eight-in-a-row', of: 8, least: 8, beyond: 0 },
];
/** Firings that lie no more points apart belong to one signal. */
const TOGETHER = 8;

/** Signals of all streams that have limits, false alarms and all; each rule and side looked at point by point. */
export function signalsOf(streams: readonly TracedStream[]): TracedSignal[] {
  const signals: TracedSignal[] = [];
  for (const { id: streamId, limits, points } of streams) {
    if (!limits) continue;
    const z = points.map(({ mean, n }) => (mean === null ? 0 : ((mean - limits.centre) / limits.sigma) * Math.sqrt(n)));
    for (const rule of rules) {
      for (const side of ['above', 'below'] as const) {
        const sign = side === 'above' ? 1 : -1;
        let last: { signal: TracedSignal; place: number } | null = null;
        for (let place = 0; place < z.length; place += 1) {
          if (sign * (z[place] as number) <= rule.beyond) continue;
          const window = z.slice(Math.max(0, place - rule.of + 1), place + 1);
          if (window.filter((value) => sign * value > rule.beyond).length < rule.least) continue;
          const at = (points[place] as (typeof points)[number]).at;
          if (last && place - last.place <= TOGETHER) {
            const grown: TracedSignal = { ...last.signal, lastAt: at };
            signals[signals.indexOf(last.signal)] = grown;
            last = { signal: grown, place };
          } else {
            const first = (points[place - window.length + 1 + window.findIndex((value) => sign * value > rule.beyond)] as (typeof points)[number]).at;
            const signal: TracedSignal = { id: signals.length + 1, streamId, rule: rule.name, side, firstAt: first, firedAt: at, lastAt: at };
            signals.push(signal);
            last = { signal, place };
          }
        }
      }
    }
  }
  return signals;
}
