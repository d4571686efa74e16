import type { LimitsBasis } from '#statistics/charts/limits';
import type { StreamListed } from '#contract/specifications';
import type { Tx } from '../platform/work.js';
import type { StreamFilter } from './stream-list.store.js';
import { streamJoins, streamJson, streamOrder } from './stream-names.store.js';

/** A stream with the columns of its last subgroups, oldest first: moments in milliseconds, which the database writes far faster than dates, the others as JSON text, since they are passed on as they are. */
export type SmallSeries = {
  stream: Omit<StreamListed, 'lastAt' | 'hasLimits' | 'openSignals'>; hasLimits: boolean; openSignals: number;
  at: number[]; mean: string; status: string; low: number | null; high: number | null;
  /** Size and limits of the newest judged one of these subgroups. */
  newest: { n: number; limits: LimitsBasis } | null;
};

/** Streams in the order of the line; one statement. Points behind the last signal of their stream are not looked up among the signals. */
export async function listSmallSeries(tx: Tx, plantId: number, { line = null, machine = null, product = null, characteristic = null }: { [Part in keyof StreamFilter]?: StreamFilter[Part] | null }, last: number, most: number): Promise<SmallSeries[]> {
  return tx.$queryRaw<SmallSeries[]>`
    /* planned once: small-charts */ WITH picked AS MATERIALIZED (
      SELECT s.id, row_number() OVER (ORDER BY ${streamOrder}) AS place, ${streamJson} AS stream FROM stream s ${streamJoins}
      WHERE s.plant_id = ${plantId} AND (${line}::int IS NULL OR l.id = ${line}) AND (${machine}::int IS NULL OR s.machine_id = ${machine}) AND (${product}::int IS NULL OR s.product_id = ${product})
        AND (${characteristic}::int IS NULL OR s.characteristic_id = ${characteristic})
      ORDER BY place LIMIT ${most})
    SELECT picked.stream, coalesce(small.at, '[]') AS at, coalesce(small.mean, '[]')::text AS mean, coalesce(small.status, '[]')::text AS status, small.low, small.high,
      EXISTS (SELECT 1 FROM limits li WHERE li.plant_id = ${plantId} AND li.stream_id = picked.id) AS "hasLimits",
      (SELECT count(*)::int FROM signal sg WHERE sg.plant_id = ${plantId} AND sg.stream_id = picked.id AND sg.state <> 'closed') AS "openSignals",
      (SELECT json_build_object('n', judged.n, 'limits', json_build_object('kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings))
        FROM limits li WHERE li.plant_id = ${plantId} AND li.id = judged.limits_id) AS newest
    FROM picked CROSS JOIN LATERAL (SELECT max(f.taken_at) AS last_at FROM signal_point f WHERE f.plant_id = ${plantId} AND f.stream_id = picked.id) signalled
    CROSS JOIN LATERAL (
      SELECT json_agg(round(date_part('epoch', o.taken_at) * 1000)::bigint) AS at, json_agg(o.mean) AS mean, min(o.mean) AS low, max(o.mean) AS high,
        json_agg(CASE WHEN o.limits_id IS NULL OR o.mean IS NULL THEN 'not-judged' WHEN o.taken_at <= signalled.last_at AND EXISTS (SELECT 1 FROM signal_point f WHERE f.plant_id = ${plantId} AND f.stream_id = picked.id AND f.taken_at = o.taken_at AND f.sequence = o.sequence) THEN 'signal' ELSE 'steady' END) AS status
      FROM (SELECT * FROM (SELECT g.taken_at, g.sequence, g.n, g.mean, g.limits_id FROM subgroup g WHERE g.plant_id = ${plantId} AND g.stream_id = picked.id ORDER BY g.taken_at DESC, g.sequence DESC LIMIT ${last}) g ORDER BY g.taken_at, g.sequence) o) small
    LEFT JOIN LATERAL (SELECT * FROM (SELECT g.n, g.mean, g.limits_id FROM subgroup g WHERE g.plant_id = ${plantId} AND g.stream_id = picked.id ORDER BY g.taken_at DESC, g.sequence DESC LIMIT ${last}) g WHERE g.limits_id IS NOT NULL AND g.mean IS NOT NULL LIMIT 1) judged ON true
    ORDER BY picked.place`;
}
