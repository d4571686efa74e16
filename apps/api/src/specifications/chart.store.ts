import type { LimitsView } from '#contract/specifications';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { isoText, streamJoins, streamJson } from './stream-names.store.js';

export type LimitsRow = Omit<LimitsView, 'bySize'>;
/** The parts of a chart: all but the limits are JSON text already, since nothing here looks at them any more. `points` begins with the column "at" in milliseconds, which the database writes far faster than dates. */
export type ChartRow = { stream: string; points: string; older: boolean; firings: string; events: string; limits: LimitsRow[]; sizes: { limitsId: number; n: number }[] };
export type Span = { last: number; from?: string; to?: string };

/** Limits `li` with their author `us`, as JSON. */
export const limitsJson = Prisma.sql`json_build_object('id', li.id, 'kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings,
  'baselineFrom', ${isoText(Prisma.sql`li.baseline_from`)}, 'baselineTo', ${isoText(Prisma.sql`li.baseline_to`)}, 'effectiveFrom', ${isoText(Prisma.sql`li.effective_from`)}, 'formula', li.formula,
  'excluded', li.excluded, 'author', us.name, 'reason', li.reason, 'createdAt', ${isoText(Prisma.sql`li.created_at`)})`;

/**
 * One statement, so that points, signals and limits are of the same moment. The points come from the index
 * subgroup_chart alone and are written as JSON by the database; only a derived characteristic charted as individuals
 * looks at its rows, since a moving range must not cross a change of formula. Planning it takes longer than running it: named.
 */
export async function findChart(tx: Tx, plantId: number, streamId: number, { last, from = '-infinity', to = 'infinity' }: Span): Promise<ChartRow | null> {
  const [row] = await tx.$queryRaw<ChartRow[]>`
    /* named: chart */ WITH k AS MATERIALIZED (
      SELECT s.chart_kind, s.chart_kind = 'i-mr' AND c.formula IS NOT NULL AS looks FROM stream s JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id WHERE s.plant_id = ${plantId} AND s.id = ${streamId}),
    -- One more than is shown: the first moving range needs the point before it.
    near AS MATERIALIZED (
      (SELECT g.taken_at, g.sequence, g.n, g.mean, g.range, g.sd, g.limits_id FROM subgroup g
        WHERE g.plant_id = ${plantId} AND g.stream_id = ${streamId} AND g.taken_at >= ${from}::timestamptz AND g.taken_at <= ${to}::timestamptz
        ORDER BY g.taken_at DESC, g.sequence DESC LIMIT ${last + 1})
      UNION ALL
      (SELECT g.taken_at, g.sequence, g.n, g.mean, g.range, g.sd, g.limits_id FROM subgroup g
        WHERE g.plant_id = ${plantId} AND g.stream_id = ${streamId} AND g.taken_at < ${from}::timestamptz ORDER BY g.taken_at DESC, g.sequence DESC LIMIT 1)),
    hidden AS MATERIALIZED (SELECT count(*) FILTER (WHERE taken_at < ${from}::timestamptz) + greatest(0, count(*) FILTER (WHERE taken_at >= ${from}::timestamptz) - ${last}) AS points FROM near),
    point AS MATERIALIZED (
      SELECT row_number() OVER series - 1 - hidden.points AS place, g.taken_at, g.sequence, g.n, g.mean, g.limits_id,
        CASE g.chart_kind WHEN 'xbar-r' THEN g.range WHEN 'xbar-s' THEN g.sd
          ELSE CASE WHEN g.limits_id IS NOT DISTINCT FROM lag(g.limits_id) OVER series AND g.formula IS NOT DISTINCT FROM lag(g.formula) OVER series THEN abs(g.mean - lag(g.mean) OVER series) END END AS spread
      FROM (SELECT near.*, k.chart_kind, CASE WHEN k.looks THEN (SELECT h.formula FROM subgroup h WHERE h.plant_id = ${plantId} AND h.stream_id = ${streamId} AND h.taken_at = near.taken_at AND h.sequence = near.sequence) END AS formula FROM near, k) g, hidden
      WINDOW series AS (ORDER BY g.taken_at, g.sequence)),
    bounds AS MATERIALIZED (SELECT min(taken_at) AS first_at, max(taken_at) AS last_at FROM point WHERE place >= 0),
    flagged AS MATERIALIZED (
      SELECT f.taken_at, f.sequence, f.chart, f.rule, f.side, f.signal_id, sg.state FROM bounds
      JOIN signal_point f ON f.plant_id = ${plantId} AND f.stream_id = ${streamId} AND f.taken_at BETWEEN bounds.first_at AND bounds.last_at
      JOIN signal sg ON sg.plant_id = f.plant_id AND sg.id = f.signal_id)
    SELECT (${streamJson})::text AS stream,
      (SELECT json_build_object(
          'at', coalesce(json_agg(round(date_part('epoch', o.taken_at) * 1000)::bigint), '[]'), 'sequence', coalesce(json_agg(o.sequence), '[]'), 'n', coalesce(json_agg(o.n), '[]'),
          'mean', coalesce(json_agg(o.mean), '[]'), 'spread', coalesce(json_agg(o.spread), '[]'), 'limitsId', coalesce(json_agg(o.limits_id), '[]'),
          'status', coalesce(json_agg(CASE WHEN o.limits_id IS NULL OR o.mean IS NULL THEN 'not-judged' WHEN o.flagged THEN 'signal' ELSE 'steady' END), '[]'))::text
        FROM (SELECT point.*, d.taken_at IS NOT NULL AS flagged FROM point LEFT JOIN (SELECT DISTINCT taken_at, sequence FROM flagged) d ON d.taken_at = point.taken_at AND d.sequence = point.sequence
          WHERE point.place >= 0 ORDER BY point.place) o) AS points,
      (SELECT hidden.points > 0 FROM hidden) AS older,
      (SELECT coalesce(json_agg(json_build_object('index', point.place, 'chart', f.chart, 'rule', f.rule, 'side', f.side, 'signalId', f.signal_id, 'signalState', f.state) ORDER BY point.place, f.chart, f.rule), '[]')::text
        FROM flagged f JOIN point ON point.taken_at = f.taken_at AND point.sequence = f.sequence AND point.place >= 0) AS firings,
      (SELECT coalesce(json_agg(json_build_object('id', e.id, 'kind', e.kind, 'at', ${isoText(Prisma.sql`e.at`)}, 'until', ${isoText(Prisma.sql`e.until`)}, 'text', e.text, 'machine', e.machine) ORDER BY e.at, e.id), '[]')::text
        FROM (SELECT e.id, e.kind, e.at, e.until, e.text, CASE WHEN e.machine_id IS NULL THEN NULL ELSE m.code END AS machine FROM bounds
          JOIN line_event e ON e.plant_id = ${plantId} AND e.line_id = l.id AND (e.machine_id IS NULL OR e.machine_id = s.machine_id) AND e.at >= bounds.first_at AND e.at <= ${to}::timestamptz
          ORDER BY e.at DESC LIMIT 2000) e) AS events,
      (SELECT coalesce(json_agg(${limitsJson} ORDER BY li.effective_from, li.id), '[]') FROM limits li JOIN "user" us ON us.plant_id = li.plant_id AND us.id = li.author_id WHERE li.plant_id = ${plantId} AND li.stream_id = ${streamId}) AS limits,
      (SELECT coalesce(json_agg(json_build_object('limitsId', z.limits_id, 'n', z.n)), '[]') FROM (SELECT DISTINCT limits_id, n FROM point WHERE limits_id IS NOT NULL AND n > 0 AND place >= 0) z) AS sizes
    FROM stream s ${streamJoins} WHERE s.plant_id = ${plantId} AND s.id = ${streamId}`;
  return row ?? null;
}
