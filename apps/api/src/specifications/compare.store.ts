import type { LimitsBasis } from '#statistics/charts/limits';
import type { ChartPoint } from '#contract/specifications';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { isoText } from './stream-names.store.js';

export type SmallSeries = { takenAt: string[]; mean: (number | null)[]; status: ChartPoint['status'][]; newest: { n: number; limits: LimitsBasis } | null };

/** The last subgroups of each stream, and the limits of the newest one that is judged. */
export async function listSmallSeries(tx: Tx, plantId: number, streamIds: readonly number[], last: number): Promise<Map<number, SmallSeries>> {
  const rows = await tx.$queryRaw<{ id: number; series: SmallSeries }[]>`
    /* named: small-charts */ SELECT w.id, json_build_object(
      'takenAt', coalesce(json_agg(${isoText(Prisma.sql`g.taken_at`)} ORDER BY g.taken_at, g.sequence) FILTER (WHERE g.taken_at IS NOT NULL), '[]'),
      'mean', coalesce(json_agg(g.mean ORDER BY g.taken_at, g.sequence) FILTER (WHERE g.taken_at IS NOT NULL), '[]'),
      'status', coalesce(json_agg(CASE WHEN g.limits_id IS NULL OR g.mean IS NULL THEN 'not-judged' WHEN g.flagged THEN 'signal' ELSE 'steady' END ORDER BY g.taken_at, g.sequence) FILTER (WHERE g.taken_at IS NOT NULL), '[]'),
      'newest', (SELECT json_build_object('n', z.n, 'limits', json_build_object('kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings))
        FROM subgroup z JOIN limits li ON li.plant_id = z.plant_id AND li.id = z.limits_id
        WHERE z.plant_id = ${plantId} AND z.stream_id = w.id AND z.mean IS NOT NULL AND z.taken_at >= min(g.taken_at) ORDER BY z.taken_at DESC, z.sequence DESC LIMIT 1)) AS series
    FROM unnest(${[...streamIds]}::int[]) AS w(id)
    LEFT JOIN LATERAL (
      SELECT i.taken_at, i.sequence, i.mean, i.limits_id,
        EXISTS (SELECT 1 FROM signal_point f WHERE f.plant_id = ${plantId} AND f.stream_id = w.id AND f.taken_at = i.taken_at AND f.sequence = i.sequence) AS flagged
      FROM subgroup i WHERE i.plant_id = ${plantId} AND i.stream_id = w.id ORDER BY i.taken_at DESC, i.sequence DESC LIMIT ${last}) g ON true
    GROUP BY w.id`;
  return new Map(rows.map(({ id, series }) => [id, series]));
}
