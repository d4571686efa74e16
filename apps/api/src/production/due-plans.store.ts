import type { DueCheck } from '#contract/due-checks';
import { Prisma } from '../platform/generated/client.js';
import type { Reading } from '../platform/reading.js';
import type { Tx } from '../platform/work.js';
import { newestOfMachines } from './newest.store.js';

export type DuePlan = {
  planId: number; plan: string; machineId: number; machine: string; lineId: number; line: string; product: string;
  everyMinutes: number | null; intervalSource: string; everyCans: number | null; cansSource: string; eventsSource: string; openedBy: string[]; unitsEachTime: number | null;
  lastCheckAt: Date | null; lastSkipAt: Date | null; productRuns: boolean; minutesRun: number | null; cansRun: number | null;
  /** Events that wait for a check, the longest waiting first. */
  causes: NonNullable<DueCheck['cause']>[];
  /** Units in the order in which it is their turn; null where the plan does not rotate. */
  turns: { id: number; code: string; position: number }[] | null;
};
const utc = 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"';
/** How far back running time, cans and events are looked at. */
const HORIZON_MS = 7 * 86_400_000;

/**
 * Check plans that can fall due: last check and skip, whether the line makes that product (its newest check says so), the
 * minutes with cans and the cans since then, and events that opened a check. Running time is that of the plan's machine,
 * or, where that one is not counted, of the machine of the line that was counted last. Looks back seven days at most. Rests on `newestOfMachines`.
 */
export function duePlans(plantId: number, now: Date, machineId: number | null = null): Reading<DuePlan> {
  const horizon = new Date(now.getTime() - HORIZON_MS);
  return { moments: ['lastCheckAt', 'lastSkipAt'], sql: Prisma.sql`
    SELECT a.id AS "planId", a.name AS plan, m.id AS "machineId", m.code AS machine, l.id AS "lineId", l.code AS line, d.code AS product, a.every_minutes AS "everyMinutes", a.interval_source AS "intervalSource",
      a.every_cans AS "everyCans", a.cans_source AS "cansSource", a.events_source AS "eventsSource", a.opened_by AS "openedBy", a.units_each_time AS "unitsEachTime",
      x.at AS "lastCheckAt", skip.at AS "lastSkipAt", coalesce(makes.product_id = a.product_id, true) AS "productRuns", ran.minutes AS "minutesRun", ran.cans AS "cansRun", opened.causes,
      CASE WHEN a.units_each_time IS NULL THEN NULL ELSE (
        SELECT jsonb_agg(jsonb_build_object('id', u.id, 'code', u.code, 'position', u.position) ORDER BY turn.last NULLS FIRST, u.position) FROM unit u
        LEFT JOIN LATERAL (SELECT max(c.taken_at) AS last FROM "check" c WHERE c.plant_id = a.plant_id AND c.machine_id = a.machine_id AND c.plan_id = a.id AND c.voided_at IS NULL
          AND c.taken_at > ${now}::timestamptz - interval '30 days' AND c.taken_at <= ${now} AND u.id = ANY(c.can_unit_ids)) turn ON true
        WHERE u.plant_id = a.plant_id AND u.machine_id = a.machine_id) END AS turns
    FROM check_plan a JOIN machine m ON m.plant_id = a.plant_id AND m.id = a.machine_id AND m.retired_at IS NULL
    JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id JOIN line l ON l.plant_id = p.plant_id AND l.id = p.line_id JOIN product d ON d.plant_id = a.plant_id AND d.id = a.product_id
    LEFT JOIN (SELECT DISTINCT ON (line_id) line_id, until_now_product AS product_id FROM newest WHERE until_now_at IS NOT NULL ORDER BY line_id, until_now_at DESC) makes ON makes.line_id = l.id
    LEFT JOIN newest w ON w.machine_id = m.id
    -- Mostly the newest check of the machine is one of the plan. OFFSET 0: or the look-up stands wherever "since" is used.
    CROSS JOIN LATERAL (SELECT CASE WHEN w.until_now_plan = a.id THEN w.until_now_at ELSE (SELECT c.taken_at FROM "check" c WHERE c.plant_id = a.plant_id AND c.machine_id = a.machine_id AND c.plan_id = a.id AND c.voided_at IS NULL AND c.taken_at <= ${now} ORDER BY c.taken_at DESC LIMIT 1) END AS at OFFSET 0) x
    LEFT JOIN LATERAL (SELECT s.at FROM due_skip s WHERE s.plant_id = a.plant_id AND s.plan_id = a.id AND s.at <= ${now} ORDER BY s.at DESC LIMIT 1) skip ON true
    CROSS JOIN LATERAL (SELECT greatest(x.at, skip.at) AS at) since
    LEFT JOIN LATERAL (SELECT machine_id FROM newest WHERE newest.line_id = l.id AND newest.counted_at IS NOT NULL ORDER BY (newest.machine_id = m.id) DESC, newest.counted_at DESC LIMIT 1) r ON true
    LEFT JOIN LATERAL (
      -- Seconds first: they add up without rounding. Spans that ended before are left out by the index of their ends.
      SELECT coalesce(sum(span.seconds), 0) / 60 AS minutes, coalesce(sum(span.seconds / (k.minutes * 60) * (k.good + k.rejected)), 0) AS cans
      FROM production_count k CROSS JOIN LATERAL (SELECT greatest(0, date_part('epoch', least(k.at + make_interval(secs => k.minutes * 60), ${now}::timestamptz) - greatest(k.at, coalesce(since.at, k.at)))) AS seconds) span
      WHERE k.plant_id = a.plant_id AND k.machine_id = r.machine_id AND k.good + k.rejected > 0 AND k.at <= ${now} AND k.at > ${horizon}::timestamptz
        AND count_ended(k.at, k.minutes) > greatest(since.at, ${horizon}::timestamptz)) ran ON r.machine_id IS NOT NULL
    CROSS JOIN LATERAL (
      SELECT coalesce(jsonb_agg(jsonb_build_object('eventId', e.id, 'kind', e.kind, 'at', to_char(coalesce(e.until, e.at) AT TIME ZONE 'UTC', ${utc}), 'text', e.text, 'machine', CASE WHEN e.machine_id IS NULL THEN NULL ELSE m.code END) ORDER BY coalesce(e.until, e.at), e.id), '[]') AS causes
      FROM line_event e WHERE e.plant_id = a.plant_id AND e.line_id = l.id AND (e.machine_id IS NULL OR e.machine_id = m.id) AND e.at > ${horizon}::timestamptz - interval '1 day'
        AND CASE WHEN e.kind = 'stop' THEN 'long-stop' = ANY(a.opened_by) AND e.until - e.at >= make_interval(mins => a.long_stop_minutes) ELSE e.kind = ANY(a.opened_by) END
        AND coalesce(e.until, e.at) <= ${now} AND coalesce(e.until, e.at) > greatest(since.at, ${horizon}::timestamptz)) opened
    WHERE a.plant_id = ${plantId} AND a.retired_at IS NULL AND (a.every_minutes IS NOT NULL OR a.every_cans IS NOT NULL OR cardinality(a.opened_by) > 0) AND (${machineId}::int IS NULL OR a.machine_id = ${machineId})
    ORDER BY l.position, p.position, m.code, a.name` };
}

export const listDuePlans = (tx: Tx, plantId: number, now: Date, machineId: number | null = null): Promise<DuePlan[]> => tx.$queryRaw<DuePlan[]>`/* planned once: due-plans */ WITH ${newestOfMachines(plantId, now)} ${duePlans(plantId, now, machineId).sql}`;

/** When the newest cans of each line were counted; a line that is not counted is not in it. */
export async function listCountEnds(tx: Tx, plantId: number, now: Date): Promise<{ lineId: number; ended: Date }[]> {
  return tx.$queryRaw<{ lineId: number; ended: Date }[]>`
    /* planned once: count-ends */ SELECT p.line_id AS "lineId", max(k.ended) AS ended FROM step p JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id
    CROSS JOIN LATERAL (SELECT k.at + make_interval(secs => k.minutes * 60) AS ended FROM production_count k WHERE k.plant_id = m.plant_id AND k.machine_id = m.id AND k.good + k.rejected > 0 AND k.at <= ${now} ORDER BY k.at DESC LIMIT 1) k
    WHERE p.plant_id = ${plantId} GROUP BY p.line_id`;
}

export async function insertDueSkip(tx: Tx, plantId: number, skip: { planId: number; eventId: number | null; at: Date; reason: string; skippedBy: number; actor: string }): Promise<number> {
  return (await tx.dueSkip.create({ data: { plantId, ...skip }, select: { id: true } })).id;
}
