import type { FiringSide } from '#statistics/rules/verdict';

/** A point of a stream's series, in order of time. */
export type SeriesPoint = { takenAt: Date; sequence: number };
/** One rule's firing at the point `index` of the series; `firstIndex` is the first point of its pattern. */
export type SeriesFiring = { index: number; firstIndex: number; chart: 'mean' | 'spread'; rule: string; side: FiringSide; seen: unknown };
export type OpenSignal = { id: number; chart: string; rule: string; side: string; firedAt: Date; lastAt: Date };

export type PlannedPoint = SeriesPoint & { chart: string; rule: string; side: string };
export type PlannedSignal = { chart: string; rule: string; side: string; firedAt: Date; firstAt: Date; lastGoodAt: Date | null; lastAt: Date; seen: unknown; points: PlannedPoint[] };
export type SignalPlan = { raised: PlannedSignal[]; grown: { id: number; lastAt: Date; points: PlannedPoint[] }[] };

/** How many points a rule may stay silent before its next firing is a signal of its own: the longest window of the rules a stream starts with. */
const SAME_SIGNAL_WITHIN = 8;

/**
 * Which signals the firings of one stream raise, and which open ones they make grow: a firing belongs to a signal of
 * the same rule, chart and side that is not closed and fired within the last eight points.
 */
export function planSignals(series: readonly SeriesPoint[], firings: readonly SeriesFiring[], open: readonly OpenSignal[]): SignalPlan {
  type Current = { last: number; planned?: PlannedSignal; grown?: { id: number; lastAt: Date; points: PlannedPoint[] } };
  const current = new Map<string, Current>();
  const plan: SignalPlan = { raised: [], grown: [] };
  for (const firing of [...firings].sort((a, b) => a.index - b.index)) {
    const point = series[firing.index];
    if (!point) throw new RangeError(`planSignals: there is no point ${firing.index} in a series of ${series.length}`);
    const name = `${firing.chart}/${firing.rule}/${firing.side}`;
    const planned: PlannedPoint = { takenAt: point.takenAt, sequence: point.sequence, chart: firing.chart, rule: firing.rule, side: firing.side };
    const running = current.get(name);
    if (running && firing.index - running.last <= SAME_SIGNAL_WITHIN) {
      running.last = firing.index;
      const target = running.planned ?? running.grown;
      if (target) { target.points.push(planned); if (point.takenAt > target.lastAt) target.lastAt = point.takenAt; }
      continue;
    }
    const from = series[Math.max(0, firing.index - SAME_SIGNAL_WITHIN)]?.takenAt ?? point.takenAt;
    const to = series[Math.min(series.length - 1, firing.index + SAME_SIGNAL_WITHIN)]?.takenAt ?? point.takenAt;
    const known = open.find((signal) => signal.chart === firing.chart && signal.rule === firing.rule && signal.side === firing.side && signal.lastAt >= from && signal.firedAt <= to);
    if (known) {
      let grown = plan.grown.find((entry) => entry.id === known.id);
      if (!grown) { grown = { id: known.id, lastAt: known.lastAt, points: [] }; plan.grown.push(grown); }
      grown.points.push(planned);
      if (point.takenAt > grown.lastAt) grown.lastAt = point.takenAt;
      current.set(name, { last: firing.index, grown });
      continue;
    }
    const signal: PlannedSignal = {
      chart: firing.chart, rule: firing.rule, side: firing.side, firedAt: point.takenAt, lastAt: point.takenAt,
      firstAt: series[firing.firstIndex]?.takenAt ?? point.takenAt, lastGoodAt: series[firing.firstIndex - 1]?.takenAt ?? null,
      seen: firing.seen, points: [planned],
    };
    plan.raised.push(signal);
    current.set(name, { last: firing.index, planned: signal });
  }
  return plan;
}
