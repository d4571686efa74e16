import type { ChartFiring, LimitsView } from '#contract/specifications';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { isoText, streamJoins, streamJson } from './stream-names.store.js';

export type LimitsRow = Omit<LimitsView, 'bySize'>;
/** The columns of the points, oldest first, each as JSON text, since most of them are passed on as they are. `at` is in milliseconds, which the database writes far faster than dates. */
export type ChartColumns = { at: string; sequence: string; n: string; mean: string; spread: string; limitsId: string; status: string };
export type Fired = Omit<ChartFiring, 'index'> & { at: number; sequence: number };
export type ChartRow = ChartColumns & { stream: string; older: boolean; firings: Fired[]; events: string; limits: LimitsRow[] };
export type Span = { last: number; from?: string; to?: string };

/** Limits `li` with their author `us`, as JSON. */
export const limitsJson = Prisma.sql`json_build_object('id', li.id, 'kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings,
  'baselineFrom', ${isoText(Prisma.sql`li.baseline_from`)}, 'baselineTo', ${isoText(Prisma.sql`li.baseline_to`)}, 'effectiveFrom', ${isoText(Prisma.sql`li.effective_from`)}, 'formula', li.formula,
  'excluded', li.excluded, 'author', us.name, 'reason', li.reason, 'createdAt', ${isoText(Prisma.sql`li.created_at`)})`;

const milliseconds = (column: Prisma.Sql) => Prisma.sql`round(date_part('epoch', ${column}) * 1000)::bigint`;
const flagged = Prisma.sql`(g.taken_at, g.sequence) IN (SELECT taken_at, sequence FROM flagged)`;
/** Points `g`, which come in the order of time, in columns. */
const columns = (spread: Prisma.Sql) => Prisma.sql`
  json_agg(${milliseconds(Prisma.sql`g.taken_at`)}) AS at, json_agg(g.sequence) AS sequence, json_agg(g.n) AS n, json_agg(g.mean) AS mean, json_agg(${spread}) AS spread, json_agg(g.limits_id) AS limits_id,
  json_agg(CASE WHEN g.limits_id IS NULL OR g.mean IS NULL THEN 'not-judged' WHEN ${flagged} THEN 'signal' ELSE 'steady' END) AS status`;

/**
 * One statement, so that points, signals and limits are of the same moment. The index subgroup_chart is read twice: backwards to
 * where the chart begins, then from there on in order, so that nothing is sorted and each column is written as the points come.
 * Moving ranges need the point before; and a derived characteristic charted as individuals looks at its rows, too, since
 * a moving range must not cross a change of formula. Planning it takes longer than running it: named.
 */
export async function findChart(tx: Tx, plantId: number, streamId: number, { last, from = '-infinity', to = 'infinity' }: Span): Promise<ChartRow | null> {
  const own = Prisma.sql`g.plant_id = ${plantId} AND g.stream_id = ${streamId}`;
  const shown = Prisma.sql`${own} AND (g.taken_at, g.sequence) >= ((SELECT taken_at FROM begun), (SELECT sequence FROM begun)) AND g.taken_at <= ${to}::timestamptz`;
  const [row] = await tx.$queryRaw<ChartRow[]>`
    /* planned once: chart */ WITH k AS MATERIALIZED (
      SELECT s.chart_kind, s.chart_kind = 'i-mr' AND c.formula IS NOT NULL AS looks FROM stream s JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id WHERE s.plant_id = ${plantId} AND s.id = ${streamId}),
    cut AS MATERIALIZED (SELECT g.taken_at, g.sequence FROM subgroup g WHERE ${own} AND g.taken_at >= ${from}::timestamptz AND g.taken_at <= ${to}::timestamptz ORDER BY g.taken_at DESC, g.sequence DESC OFFSET ${last - 1} LIMIT 1),
    begun AS MATERIALIZED (
      SELECT taken_at, sequence FROM cut UNION ALL
      (SELECT g.taken_at, g.sequence FROM subgroup g WHERE NOT EXISTS (SELECT FROM cut) AND ${own} AND g.taken_at >= ${from}::timestamptz AND g.taken_at <= ${to}::timestamptz ORDER BY g.taken_at, g.sequence LIMIT 1)),
    before AS MATERIALIZED (
      SELECT g.taken_at, g.sequence, g.n, g.mean, g.limits_id FROM subgroup g
      WHERE ${own} AND (g.taken_at, g.sequence) < (coalesce((SELECT taken_at FROM begun), ${from}::timestamptz), coalesce((SELECT sequence FROM begun), -2147483648)) ORDER BY g.taken_at DESC, g.sequence DESC LIMIT 1),
    flagged AS MATERIALIZED (
      SELECT f.taken_at, f.sequence, f.chart, f.rule, f.side, f.signal_id, sg.state FROM signal_point f JOIN signal sg ON sg.plant_id = f.plant_id AND sg.id = f.signal_id
      WHERE f.plant_id = ${plantId} AND f.stream_id = ${streamId} AND f.taken_at >= (SELECT taken_at FROM begun) AND f.taken_at <= ${to}::timestamptz),
    drawn AS MATERIALIZED (
      SELECT ${columns(Prisma.sql`CASE (SELECT chart_kind FROM k) WHEN 'xbar-r' THEN g.range ELSE g.sd END`)}
      FROM (SELECT g.taken_at, g.sequence, g.n, g.mean, g.range, g.sd, g.limits_id FROM subgroup g WHERE ${shown} ORDER BY g.taken_at, g.sequence) g HAVING (SELECT chart_kind FROM k) <> 'i-mr'
      UNION ALL
      SELECT ${columns(Prisma.sql`g.moved`)} FROM (
        SELECT p.*, CASE WHEN p.limits_id IS NOT DISTINCT FROM lag(p.limits_id) OVER series AND p.formula IS NOT DISTINCT FROM lag(p.formula) OVER series THEN abs(p.mean - lag(p.mean) OVER series) END AS moved FROM (
          SELECT g.*, CASE WHEN (SELECT looks FROM k) THEN (SELECT h.formula FROM subgroup h WHERE h.plant_id = ${plantId} AND h.stream_id = ${streamId} AND h.taken_at = g.taken_at AND h.sequence = g.sequence) END AS formula
          FROM (SELECT g.taken_at, g.sequence, g.n, g.mean, g.limits_id, true AS seen FROM subgroup g WHERE ${shown} UNION ALL SELECT taken_at, sequence, n, mean, limits_id, false FROM before) g) p
        WINDOW series AS (ORDER BY p.taken_at, p.sequence) ORDER BY p.taken_at, p.sequence) g WHERE g.seen HAVING (SELECT chart_kind FROM k) = 'i-mr')
    SELECT (${streamJson})::text AS stream, EXISTS (SELECT FROM before) AS older,
      coalesce(drawn.at, '[]')::text AS at, coalesce(drawn.sequence, '[]')::text AS sequence, coalesce(drawn.n, '[]')::text AS n, coalesce(drawn.mean, '[]')::text AS mean, coalesce(drawn.spread, '[]')::text AS spread,
      coalesce(drawn.limits_id, '[]')::text AS "limitsId", coalesce(drawn.status, '[]')::text AS status,
      (SELECT coalesce(json_agg(json_build_object('at', ${milliseconds(Prisma.sql`f.taken_at`)}, 'sequence', f.sequence, 'chart', f.chart, 'rule', f.rule, 'side', f.side, 'signalId', f.signal_id, 'signalState', f.state) ORDER BY f.taken_at, f.sequence, f.chart, f.rule), '[]') FROM flagged f) AS firings,
      (SELECT coalesce(json_agg(json_build_object('id', e.id, 'kind', e.kind, 'at', ${isoText(Prisma.sql`e.at`)}, 'until', ${isoText(Prisma.sql`e.until`)}, 'text', e.text, 'machine', e.machine) ORDER BY e.at, e.id), '[]')::text
        FROM (SELECT e.id, e.kind, e.at, e.until, e.text, CASE WHEN e.machine_id IS NULL THEN NULL ELSE m.code END AS machine
          FROM line_event e WHERE e.plant_id = ${plantId} AND e.line_id = l.id AND (e.machine_id IS NULL OR e.machine_id = s.machine_id) AND e.at >= (SELECT taken_at FROM begun) AND e.at <= ${to}::timestamptz
          ORDER BY e.at DESC LIMIT 2000) e) AS events,
      (SELECT coalesce(json_agg(${limitsJson} ORDER BY li.effective_from, li.id), '[]') FROM limits li JOIN "user" us ON us.plant_id = li.plant_id AND us.id = li.author_id WHERE li.plant_id = ${plantId} AND li.stream_id = ${streamId}) AS limits
    FROM stream s ${streamJoins} CROSS JOIN drawn WHERE s.plant_id = ${plantId} AND s.id = ${streamId}`;
  return row ?? null;
}
