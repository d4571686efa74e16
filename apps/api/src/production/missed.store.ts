import type { Tx } from '../platform/work.js';

type Span = { from: Date; to: Date };
const utc = 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"';

export type MissedPlan = {
  planId: number; plan: string; machineId: number; machine: string; machineName: string; stepKind: string; lineId: number; line: string; productId: number; product: string; retiredAt: Date | null;
  now: { everyMinutes: number | null; everyCans: number | null; openedBy: string[]; longStopMinutes: number | null; intervalSource: string; cansSource: string; eventsSource: string };
  /** Oldest first; empty where the plan was never changed. */
  revisions: { revision: number; at: string; author: string; everyMinutes: number | null; everyCans: number | null; openedBy: string[]; longStopMinutes: number | null; retired: boolean }[];
  /** From the last check before the period to the first after it. */
  checks: string[];
  skips: { at: string; reason: string; by: string }[];
  /** The machine whose counts tell the running time; null where nothing of the line is counted in the period. */
  countedId: number | null;
};

/** Plans that were in use in the period, with their checks and skips and what they said over time. */
export async function listMissedPlans(tx: Tx, plantId: number, { from, to }: Span, machineId: number | null, lineId: number | null): Promise<MissedPlan[]> {
  return tx.$queryRaw<MissedPlan[]>`
    SELECT a.id AS "planId", a.name AS plan, m.id AS "machineId", m.code AS machine, m.name AS "machineName", p.kind AS "stepKind", l.id AS "lineId", l.code AS line, d.id AS "productId", d.code AS product, a.retired_at AS "retiredAt",
      jsonb_build_object('everyMinutes', a.every_minutes, 'everyCans', a.every_cans, 'openedBy', to_jsonb(a.opened_by), 'longStopMinutes', a.long_stop_minutes, 'intervalSource', a.interval_source, 'cansSource', a.cans_source, 'eventsSource', a.events_source) AS now,
      coalesce((SELECT jsonb_agg(jsonb_build_object('revision', r.revision, 'author', r.author, 'at', to_char(r.at AT TIME ZONE 'UTC', ${utc}), 'everyMinutes', r.plan->'everyMinutes', 'everyCans', r.plan->'everyCans', 'openedBy', r.plan->'openedBy', 'longStopMinutes', r.plan->'longStopMinutes', 'retired', r.plan->'retired') ORDER BY r.revision)
        FROM check_plan_revision r WHERE r.plant_id = a.plant_id AND r.plan_id = a.id), '[]') AS revisions,
      coalesce((SELECT jsonb_agg(to_char(k.taken_at AT TIME ZONE 'UTC', ${utc}) ORDER BY k.taken_at) FROM "check" k
        WHERE k.plant_id = a.plant_id AND k.machine_id = a.machine_id AND k.plan_id = a.id AND k.voided_at IS NULL
          AND k.taken_at >= coalesce((SELECT max(b.taken_at) FROM "check" b WHERE b.plant_id = a.plant_id AND b.machine_id = a.machine_id AND b.plan_id = a.id AND b.voided_at IS NULL AND b.taken_at <= ${from}), ${from}::timestamptz)
          AND k.taken_at <= coalesce((SELECT min(n.taken_at) FROM "check" n WHERE n.plant_id = a.plant_id AND n.machine_id = a.machine_id AND n.plan_id = a.id AND n.voided_at IS NULL AND n.taken_at >= ${to}), ${to}::timestamptz)), '[]') AS checks,
      coalesce((SELECT jsonb_agg(jsonb_build_object('at', to_char(s.at AT TIME ZONE 'UTC', ${utc}), 'reason', s.reason, 'by', s.actor) ORDER BY s.at) FROM due_skip s
        WHERE s.plant_id = a.plant_id AND s.plan_id = a.id AND s.at >= ${from}::timestamptz - interval '1 day' AND s.at <= ${to}::timestamptz + interval '1 day'), '[]') AS skips,
      (SELECT k.machine_id FROM machine o JOIN step q ON q.plant_id = o.plant_id AND q.id = o.step_id AND q.line_id = l.id
        CROSS JOIN LATERAL (SELECT c.machine_id, c.at FROM production_count c WHERE c.plant_id = o.plant_id AND c.machine_id = o.id AND c.good + c.rejected > 0 AND c.at >= ${from}::timestamptz - interval '1 day' AND c.at < ${to} ORDER BY c.at DESC LIMIT 1) k
        WHERE o.plant_id = a.plant_id ORDER BY (k.machine_id = m.id) DESC, k.at DESC LIMIT 1) AS "countedId"
    FROM check_plan a JOIN machine m ON m.plant_id = a.plant_id AND m.id = a.machine_id JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id JOIN line l ON l.plant_id = p.plant_id AND l.id = p.line_id
    JOIN product d ON d.plant_id = a.plant_id AND d.id = a.product_id
    WHERE a.plant_id = ${plantId} AND (a.retired_at IS NULL OR a.retired_at > ${from}) AND (${machineId}::int IS NULL OR m.id = ${machineId}) AND (${lineId}::int IS NULL OR l.id = ${lineId})
    ORDER BY l.position, p.position, m.code, a.name`;
}

/** Which product each line made from when on, by its checks: the first check of a run of one product begins it. From a week before the period. */
export async function listProductChanges(tx: Tx, plantId: number, { from, to }: Span): Promise<{ lineId: number; productId: number; at: Date }[]> {
  return tx.$queryRaw<{ lineId: number; productId: number; at: Date }[]>`
    SELECT line_id AS "lineId", product_id AS "productId", taken_at AS at FROM (
      SELECT p.line_id, c.product_id, c.taken_at, lag(c.product_id) OVER (PARTITION BY p.line_id ORDER BY c.taken_at, c.id) AS before FROM "check" c
      JOIN machine m ON m.plant_id = c.plant_id AND m.id = c.machine_id JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id
      WHERE c.plant_id = ${plantId} AND c.voided_at IS NULL AND c.taken_at > ${from}::timestamptz - interval '7 days' AND c.taken_at <= ${to}) runs
    WHERE before IS DISTINCT FROM product_id ORDER BY line_id, taken_at`;
}

export async function listCounts(tx: Tx, plantId: number, machineIds: readonly number[], { from, to }: Span): Promise<{ machineId: number; at: Date; minutes: number; cans: number }[]> {
  return tx.$queryRaw<{ machineId: number; at: Date; minutes: number; cans: number }[]>`
    SELECT machine_id AS "machineId", at, minutes, good + rejected AS cans FROM production_count
    WHERE plant_id = ${plantId} AND machine_id = ANY(${[...machineIds]}::int[]) AND good + rejected > 0 AND at > ${from}::timestamptz - interval '8 days' AND at < ${to} ORDER BY at`;
}

export type MissedCause = { id: number; lineId: number; machineId: number | null; machine: string | null; kind: string; at: Date; until: Date | null; text: string };
export async function listCauses(tx: Tx, plantId: number, { from, to }: Span): Promise<MissedCause[]> {
  return tx.$queryRaw<MissedCause[]>`
    SELECT e.id, e.line_id AS "lineId", e.machine_id AS "machineId", m.code AS machine, e.kind, e.at, e.until, e.text FROM line_event e LEFT JOIN machine m ON m.plant_id = e.plant_id AND m.id = e.machine_id
    WHERE e.plant_id = ${plantId} AND coalesce(e.until, e.at) >= ${from} AND coalesce(e.until, e.at) < ${to} ORDER BY e.at, e.id`;
}
