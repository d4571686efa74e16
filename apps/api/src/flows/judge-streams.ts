import { type LimitsBasis, limitsForSize } from '#statistics/charts/limits';
import { judgeSeries } from '#statistics/rules/evaluate';
import { listPointsAround, type StoredPoint } from '../inspections/subgroups.store.js';
import type { Tx } from '../platform/work.js';
import type { FrozenLimits } from '../specifications/limits.store.js';
import type { Stream } from '../specifications/streams.store.js';
import { planSignals, type SeriesFiring } from '../signals/plan-signals.js';
import { insertSignals, listOpenSignals, listSignalPoints, type StreamPlan, withdrawPoints } from '../signals/signals.store.js';

/** The points of one stream, old and new, in order of time, and from which index on they are to be judged anew. */
export type StreamSeries = { stream: Stream; points: StoredPoint[]; judgeFrom: number };

/** Reads, for each stream, the stored points from `from` to `to` and those around them that a rule can still see. */
export async function loadSeries(tx: Tx, plantId: number, streams: readonly Stream[], span: (stream: Stream) => { from: Date; to: Date }): Promise<Map<number, StoredPoint[]>> {
  const points = await listPointsAround(tx, plantId, streams.map((stream) => ({ streamId: stream.id, ...span(stream) })));
  const byStream = new Map<number, StoredPoint[]>(streams.map((stream) => [stream.id, []]));
  for (const point of points) byStream.get(point.streamId)?.push(point);
  return byStream;
}

export type JudgedSeries = StreamSeries & { firings: SeriesFiring[] };

/** What the run rules see in the series against the limits each point was given. */
export function judge(series: readonly StreamSeries[], limits: readonly FrozenLimits[]): JudgedSeries[] {
  const byId = new Map(limits.map((entry) => [entry.id, entry]));
  return series.map((entry) => ({ ...entry, firings: firingsOf(entry, byId) }));
}

/**
 * Brings the signals in line with what the rules see: new firings raise or grow signals, firings that no longer hold are
 * withdrawn. Answers the raised signals.
 * `keepClosed`: what a person has closed stays as it was closed. For new limits, which change the yardstick and no reading.
 */
export async function updateSignals(tx: Tx, plantId: number, judged: readonly JudgedSeries[], why: string, { keepClosed = false } = {}): Promise<{ id: number; streamId: number }[]> {
  const late = judged.filter(({ points, judgeFrom }) => points.length > 0 && judgeFrom < points.length);
  const spans = late.map(({ stream, points, judgeFrom }) => ({ streamId: stream.id, from: (points[judgeFrom] as StoredPoint).takenAt, to: (points.at(-1) as StoredPoint).takenAt }));
  const stored = spans.length === 0 ? [] : await listSignalPoints(tx, plantId, spans);
  const byStream = new Map(judged.map((entry) => [entry.stream.id, { ...entry, fired: new Set(entry.firings.map((firing) => firedKey(entry.points[firing.index], firing))) }]));
  const stale = stored.filter((point) => {
    const entry = byStream.get(point.streamId);
    // Of several points at one moment, those before the first one judged anew, and those past the last one read, keep what they have.
    return !(keepClosed && point.closed) && !(entry && (entry.fired.has(firedKey(point, point)) || outside(entry.points, entry.judgeFrom, point)));
  });
  await withdrawPoints(tx, plantId, stale, why);
  const withFirings = judged.filter(({ firings }) => firings.length > 0);
  if (withFirings.length === 0) return [];
  const open = await listOpenSignals(tx, plantId, withFirings.map(({ stream }) => stream.id));
  const known = new Set(stored.map((point) => `${point.streamId}/${firedKey(point, point)}`));
  const plans: StreamPlan[] = withFirings.map(({ stream, points, firings }) => {
    const fresh = firings.filter((firing) => !known.has(`${stream.id}/${firedKey(points[firing.index], firing)}`));
    return { streamId: stream.id, plan: planSignals(points, fresh, open.filter((signal) => signal.streamId === stream.id)) };
  });
  return insertSignals(tx, plantId, plans);
}

function outside(points: readonly StoredPoint[], judgeFrom: number, stored: { takenAt: Date; sequence: number }): boolean {
  const [first, last] = [points[judgeFrom], points.at(-1)];
  const at = stored.takenAt.getTime();
  return (first !== undefined && at === first.takenAt.getTime() && stored.sequence < first.sequence) || (last !== undefined && at === last.takenAt.getTime() && stored.sequence > last.sequence);
}

/** Which firing it is, within its stream: the point and what fired there. */
function firedKey(point: { takenAt: Date; sequence: number } | undefined, { chart, rule, side }: { chart: string; rule: string; side: string }): string {
  return `${point?.takenAt.getTime()}/${point?.sequence}/${chart}/${rule}/${side}`;
}

/** What the rules see in a series, from the point on that is to be judged. */
export function firingsOf({ stream, points, judgeFrom }: StreamSeries, limits: ReadonlyMap<number, LimitsBasis>): SeriesFiring[] {
  const verdicts = judgeSeries(points.map((point, index) => ({
    n: Math.max(1, point.n), mean: point.mean,
    spread: stream.chartKind === 'xbar-r' ? point.range : stream.chartKind === 'xbar-s' ? point.sd : null,
    limits: point.limitsId === null ? null : limits.get(point.limitsId) ?? null,
    // A change of formula is a change of the measure: no pattern may run across it.
    breakBefore: index > 0 && points[index - 1]?.formula !== point.formula,
  })), stream.rules);
  return verdicts.flatMap((verdict, index) => (index < judgeFrom ? [] : verdict.firings.map((firing) => ({
    index, firstIndex: firing.firstIndex, chart: firing.chart, rule: firing.rule, side: firing.side,
    seen: whatTheRuleSaw(points, verdicts, firing.firstIndex, index, limits),
  }))));
}

/** The numbers behind a signal's sentence, kept as they were when the rule fired. */
function whatTheRuleSaw(points: readonly StoredPoint[], verdicts: readonly { z: number | null }[], first: number, last: number, limits: ReadonlyMap<number, LimitsBasis>) {
  const point = points[last];
  const basis = point?.limitsId == null ? undefined : limits.get(point.limitsId);
  return {
    limits: basis && point ? limitsForSize(basis, Math.max(1, point.n)) : null,
    points: points.slice(first, last + 1).map((seen, offset) => ({ at: seen.takenAt, mean: seen.mean, range: seen.range, sd: seen.sd, n: seen.n, z: verdicts[first + offset]?.z ?? null })),
  };
}

/** Withdraws the firings of points that are no longer in their stream; `kept` are those that still are. */
export async function withdrawWithin(tx: Tx, plantId: number, spans: readonly { streamId: number; from: Date; to: Date; kept: readonly StoredPoint[] }[], why: string): Promise<void> {
  if (spans.length === 0) return;
  const there = new Set(spans.flatMap((span) => span.kept.map((point) => `${span.streamId}/${point.takenAt.getTime()}/${point.sequence}`)));
  const stored = await listSignalPoints(tx, plantId, spans);
  await withdrawPoints(tx, plantId, stored.filter((point) => !there.has(`${point.streamId}/${point.takenAt.getTime()}/${point.sequence}`)), why);
}
