import { chartedStatistics, type SubgroupStatistics } from '#statistics/charts/subgroup';
import { streamKey, type PlacedReadings } from '../inspections/place-readings.js';
import { insertSubgroups, type NewSubgroup, type StoredPoint } from '../inspections/subgroups.store.js';
import type { Tx } from '../platform/work.js';
import { limitsInForce } from '../specifications/limits-in-force.js';
import { listLimits } from '../specifications/limits.store.js';
import type { Stream } from '../specifications/streams.store.js';
import { judge, loadSeries, type StreamSeries, updateSignals } from './judge-streams.js';
import { lockOrMakeStreams } from './lock-or-make-streams.js';

/** Readings of one subgroup, with the check they belong to and how many positions a can has there. */
export type PlacedOfCheck = PlacedReadings & { checkId: number; positions: number };

/**
 * The half of the straight path that every source of readings shares: from placed readings to stored subgroups, verdicts and signals.
 * `meanwhile` is what the caller has to do with the subgroups and nobody waits for: it is done while the database stores them.
 */
export async function judgePlaced(tx: Tx, plantId: number, placed: readonly PlacedOfCheck[], why: string, meanwhile?: (subgroups: readonly NewSubgroup[]) => void): Promise<{ streams: Stream[]; signals: { id: number; streamId: number }[]; subgroups: NewSubgroup[] }> {
  const byStream = new Map<string, [PlacedOfCheck, ...PlacedOfCheck[]]>();
  for (const group of placed) {
    const key = streamKey(group.stream);
    const groups = byStream.get(key);
    if (groups) groups.push(group);
    else byStream.set(key, [group]);
  }
  // One writer a stream; new streams come into being with their first readings.
  const streams = await lockOrMakeStreams(tx, plantId, [...byStream.values()].map(([first]) => first.stream));

  // The points that a rule can still see; the statistics of each subgroup while the database looks for them; limits in force.
  const touched = [...byStream].map(([key, groups]) => ({ stream: streams.get(key) as Stream, groups: [...groups].sort((a, b) => a.takenAt.getTime() - b.takenAt.getTime()) }));
  const spans = new Map(touched.map(({ stream, groups }) => [stream.id, { from: (groups[0] as PlacedReadings).takenAt, to: (groups.at(-1) as PlacedReadings).takenAt }]));
  const looking = loadSeries(tx, plantId, touched.map(({ stream }) => stream), (stream) => spans.get(stream.id) as { from: Date; to: Date });
  looking.catch(() => {}); // Thrown below.
  const measured = touched.map(({ stream, groups }) => ({ stream, groups: groups.map((group) => ({ group, statistics: chartedStatistics(group.readings, group.positions, stream.basis) })) }));
  const stored = await looking;
  const limits = await listLimits(tx, plantId, [...streams.values()].map((stream) => stream.id));

  // Each subgroup is stored with the limits it is judged by. While the database stores them, the rules look at them.
  const judgeable = measured.map(({ stream, groups }) => ({ stream, points: newSubgroups(stream, groups, stored.get(stream.id) ?? [], limits) }));
  const subgroups = judgeable.flatMap(({ points }) => points);
  const storing = insertSubgroups(tx, plantId, subgroups);
  storing.catch(() => {}); // Thrown below.
  const judged = judge(judgeable.map(({ stream, points }) => mergeSeries(stream, stored.get(stream.id) ?? [], points)), limits);
  meanwhile?.(subgroups);
  await storing;

  const signals = await updateSignals(tx, plantId, judged, why);
  return { streams: touched.map(({ stream }) => stream), signals, subgroups };
}

type Measured = { group: PlacedOfCheck; statistics: SubgroupStatistics };

function newSubgroups(stream: Stream, groups: readonly Measured[], stored: readonly StoredPoint[], limits: Parameters<typeof limitsInForce>[0]): NewSubgroup[] {
  const used = new Map<number, number>();
  for (const point of stored) used.set(point.takenAt.getTime(), Math.max(used.get(point.takenAt.getTime()) ?? 0, point.sequence));
  return groups.map(({ group, statistics }) => {
    const sequence = (used.get(group.takenAt.getTime()) ?? 0) + 1;
    used.set(group.takenAt.getTime(), sequence);
    // Field by field: spreading an object of numbers that are not whole costs ten times as much as all else here.
    const { n, mean, range, sd, low, high } = statistics;
    return {
      n, mean, range, sd, low, high, streamId: stream.id, takenAt: group.takenAt, sequence, checkId: group.checkId, cans: group.cans, readings: group.readings,
      gaugeId: group.gaugeId, formula: group.formula, limitsId: limitsInForce(limits, stream.id, group.takenAt, group.formula)?.id ?? null,
    };
  });
}

function mergeSeries(stream: Stream, stored: readonly StoredPoint[], points: readonly StoredPoint[]): StreamSeries {
  const merged = [...stored, ...points].sort((a, b) => a.takenAt.getTime() - b.takenAt.getTime() || a.sequence - b.sequence);
  const fresh = new Set(points);
  return { stream, points: merged, judgeFrom: merged.findIndex((point) => fresh.has(point)) };
}
