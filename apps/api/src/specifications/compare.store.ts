import type { LimitsBasis } from '#statistics/charts/limits';
import type { ChartPoint, StreamListed } from '#contract/specifications';
import { isoMoments } from '../platform/iso-moments.js';
import type { Tx } from '../platform/work.js';
import type { StreamFilter } from './stream-list.store.js';
import { streamJoins, streamJson, streamOrder } from './stream-names.store.js';

export type SmallSeries = { stream: StreamListed; takenAt: string[]; mean: (number | null)[]; status: ChartPoint['status'][]; newest: { n: number; limits: LimitsBasis } | null };
type Row = {
  stream: Omit<StreamListed, 'lastAt' | 'hasLimits' | 'openSignals'>; has_limits: boolean; open_signals: number;
  /** The newest first, as the index gives them; null where there is no subgroup. Moments in milliseconds, which the database writes far faster than dates. */
  at: number[] | null; mean: (number | null)[] | null; status: ChartPoint['status'][] | null; newest: SmallSeries['newest'];
};

/** Streams in the order of the line, each with its last subgroups and the limits of the newest one that is judged; one statement. Points behind the last signal of their stream are not looked up among the signals. */
export async function listSmallSeries(tx: Tx, plantId: number, { line = null, machine = null, product = null, characteristic = null }: { [Part in keyof StreamFilter]?: StreamFilter[Part] | null }, last: number, most: number): Promise<SmallSeries[]> {
  const rows = await tx.$queryRaw<Row[]>`
    /* planned once: small-charts */ WITH picked AS MATERIALIZED (
      SELECT s.id, row_number() OVER (ORDER BY ${streamOrder}) AS place, ${streamJson} AS stream FROM stream s ${streamJoins}
      WHERE s.plant_id = ${plantId} AND (${line}::int IS NULL OR l.id = ${line}) AND (${machine}::int IS NULL OR s.machine_id = ${machine}) AND (${product}::int IS NULL OR s.product_id = ${product})
        AND (${characteristic}::int IS NULL OR s.characteristic_id = ${characteristic})
      ORDER BY place LIMIT ${most})
    SELECT picked.stream, small.at, small.mean, small.status,
      EXISTS (SELECT 1 FROM limits li WHERE li.plant_id = ${plantId} AND li.stream_id = picked.id) AS has_limits,
      (SELECT count(*)::int FROM signal sg WHERE sg.plant_id = ${plantId} AND sg.stream_id = picked.id AND sg.state <> 'closed') AS open_signals,
      (SELECT json_build_object('n', small.newest_n, 'limits', json_build_object('kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings))
        FROM limits li WHERE li.plant_id = ${plantId} AND li.id = small.newest_limits) AS newest
    FROM picked CROSS JOIN LATERAL (SELECT max(f.taken_at) AS last_at FROM signal_point f WHERE f.plant_id = ${plantId} AND f.stream_id = picked.id) signalled
    CROSS JOIN LATERAL (
      SELECT json_agg(round(date_part('epoch', o.taken_at) * 1000)::bigint) AS at, json_agg(o.mean) AS mean,
        json_agg(CASE WHEN NOT o.judged THEN 'not-judged' WHEN o.taken_at <= signalled.last_at AND EXISTS (SELECT 1 FROM signal_point f WHERE f.plant_id = ${plantId} AND f.stream_id = picked.id AND f.taken_at = o.taken_at AND f.sequence = o.sequence) THEN 'signal' ELSE 'steady' END) AS status,
        (array_agg(o.n) FILTER (WHERE o.judged))[1] AS newest_n, (array_agg(o.limits_id) FILTER (WHERE o.judged))[1] AS newest_limits
      FROM (
        SELECT g.taken_at, g.sequence, g.n, g.mean, g.limits_id, g.limits_id IS NOT NULL AND g.mean IS NOT NULL AS judged
        FROM subgroup g WHERE g.plant_id = ${plantId} AND g.stream_id = picked.id ORDER BY g.taken_at DESC, g.sequence DESC LIMIT ${last}) o) small
    ORDER BY picked.place`;
  return rows.map(({ stream, has_limits, open_signals, at, mean, status, newest }) => {
    const takenAt = isoMoments(at ?? []).reverse();
    return { stream: { ...stream, lastAt: takenAt.at(-1) ?? null, hasLimits: has_limits, openSignals: open_signals }, takenAt, mean: (mean ?? []).reverse(), status: (status ?? []).reverse(), newest };
  });
}
