import { findDefect } from '#canmaking/defects/taxonomy';
import type { NowBoard } from '#contract/signals';
import type { Tx } from '../platform/work.js';

export type BoardMachine = {
  lineId: number; lineCode: string; lineName: string; stepId: number; stepKind: string; id: number | null; code: string | null; name: string | null;
  openSignals: number; streamId: number | null; limits: boolean; judgedLately: boolean; lastCheckAt: Date | null;
  /** End of the line's last span with cans; null where nothing is counted. */
  lineCountEnd: Date | null;
};
/** How long a verdict stands before a machine counts as not judged: a day of the line, not of the calendar. */
const JUDGED_WITHIN_MS = 86_400_000;

/** Every machine of every line in process order, with what its state is made of; a step without machines is one row with id null. */
export async function listBoardMachines(tx: Tx, plantId: number, now: Date): Promise<BoardMachine[]> {
  const lately = `${JUDGED_WITHIN_MS / 1000} seconds`;
  return tx.$queryRaw<BoardMachine[]>`
    WITH ends AS (
      SELECT p.line_id, max(k.ended) AS ended FROM step p JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id
      CROSS JOIN LATERAL (SELECT k.at + make_interval(secs => k.minutes * 60) AS ended FROM production_count k WHERE k.plant_id = m.plant_id AND k.machine_id = m.id AND k.good + k.rejected > 0 AND k.at <= ${now} ORDER BY k.at DESC LIMIT 1) k
      WHERE p.plant_id = ${plantId} GROUP BY p.line_id)
    SELECT l.id AS "lineId", l.code AS "lineCode", l.name AS "lineName", p.id AS "stepId", p.kind AS "stepKind", m.id, m.code, m.name, e.ended AS "lineCountEnd",
      (SELECT count(*) FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id WHERE g.plant_id = m.plant_id AND s.machine_id = m.id AND g.state IN ('open', 'acknowledged'))::int AS "openSignals",
      (SELECT min(s.id) FROM stream s WHERE s.plant_id = m.plant_id AND s.machine_id = m.id) AS "streamId",
      EXISTS (SELECT 1 FROM stream s JOIN limits f ON f.plant_id = s.plant_id AND f.stream_id = s.id WHERE s.plant_id = m.plant_id AND s.machine_id = m.id AND f.effective_from <= ${now}) AS limits,
      EXISTS (SELECT 1 FROM "check" c JOIN subgroup b ON b.plant_id = c.plant_id AND b.check_id = c.id WHERE c.plant_id = m.plant_id AND c.machine_id = m.id AND c.voided_at IS NULL AND b.limits_id IS NOT NULL
        AND c.taken_at >= least(${now}::timestamptz, e.ended) - ${lately}::interval) AS "judgedLately",
      (SELECT c.taken_at FROM "check" c WHERE c.plant_id = m.plant_id AND c.machine_id = m.id AND c.voided_at IS NULL AND c.source <> 'monitor' ORDER BY c.taken_at DESC LIMIT 1) AS "lastCheckAt"
    FROM line l JOIN step p ON p.plant_id = l.plant_id AND p.line_id = l.id
    LEFT JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id AND m.retired_at IS NULL
    LEFT JOIN ends e ON e.line_id = l.id
    WHERE l.plant_id = ${plantId} ORDER BY l.position, l.id, p.position, m.code`;
}

export type BoardPlan = {
  planId: number; plan: string; machineId: number; machine: string; lineId: number; line: string; product: string; everyMinutes: number; intervalSource: string;
  lastCheckAt: Date | null; productRuns: boolean; minutesRun: number | null;
};

/**
 * Check plans with an interval: last check, whether the line makes that product (its newest check says so), and the
 * minutes with cans since the last check. Running time is that of the plan's machine, or, where that one is not
 * counted, of the machine of the line that was counted last. Looks back seven days at most.
 */
export async function listBoardPlans(tx: Tx, plantId: number, now: Date): Promise<BoardPlan[]> {
  const horizon = new Date(now.getTime() - 7 * 86_400_000);
  return tx.$queryRaw<BoardPlan[]>`
    WITH counted AS (
      SELECT p.line_id, m.id AS machine_id, k.at FROM step p JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id
      CROSS JOIN LATERAL (SELECT k.at FROM production_count k WHERE k.plant_id = m.plant_id AND k.machine_id = m.id AND k.good + k.rejected > 0 AND k.at <= ${now} ORDER BY k.at DESC LIMIT 1) k
      WHERE p.plant_id = ${plantId}),
    makes AS (
      SELECT DISTINCT ON (p.line_id) p.line_id, c.product_id FROM step p JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id
      CROSS JOIN LATERAL (SELECT c.product_id, c.taken_at FROM "check" c WHERE c.plant_id = m.plant_id AND c.machine_id = m.id AND c.voided_at IS NULL AND c.taken_at <= ${now} ORDER BY c.taken_at DESC LIMIT 1) c
      WHERE p.plant_id = ${plantId} ORDER BY p.line_id, c.taken_at DESC)
    SELECT a.id AS "planId", a.name AS plan, m.id AS "machineId", m.code AS machine, l.id AS "lineId", l.code AS line, d.code AS product, a.every_minutes AS "everyMinutes", a.interval_source AS "intervalSource",
      x.taken_at AS "lastCheckAt", coalesce(makes.product_id = a.product_id, true) AS "productRuns", ran.minutes AS "minutesRun"
    FROM check_plan a JOIN machine m ON m.plant_id = a.plant_id AND m.id = a.machine_id AND m.retired_at IS NULL
    JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id JOIN line l ON l.plant_id = p.plant_id AND l.id = p.line_id JOIN product d ON d.plant_id = a.plant_id AND d.id = a.product_id
    LEFT JOIN makes ON makes.line_id = l.id
    LEFT JOIN LATERAL (SELECT c.taken_at FROM "check" c WHERE c.plant_id = a.plant_id AND c.machine_id = a.machine_id AND c.plan_id = a.id AND c.voided_at IS NULL AND c.taken_at <= ${now} ORDER BY c.taken_at DESC LIMIT 1) x ON true
    LEFT JOIN LATERAL (SELECT machine_id FROM counted WHERE counted.line_id = l.id ORDER BY (counted.machine_id = m.id) DESC, counted.at DESC LIMIT 1) r ON true
    LEFT JOIN LATERAL (
      SELECT coalesce(sum(greatest(0, extract(epoch FROM least(k.at + make_interval(secs => k.minutes * 60), ${now}::timestamptz) - greatest(k.at, coalesce(x.taken_at, k.at))))) / 60, 0)::float8 AS minutes
      FROM production_count k WHERE k.plant_id = a.plant_id AND k.machine_id = r.machine_id AND k.good + k.rejected > 0 AND k.at <= ${now}
        AND k.at > greatest(coalesce(x.taken_at - interval '1 day', ${horizon}::timestamptz), ${horizon}::timestamptz)) ran ON r.machine_id IS NOT NULL
    WHERE a.plant_id = ${plantId} AND a.retired_at IS NULL AND a.every_minutes IS NOT NULL
    ORDER BY l.position, p.position, m.code, a.name`;
}

/** Incidents that are not closed, newest first, with the line they were traced to. */
export async function listBoardIncidents(tx: Tx, plantId: number): Promise<(NowBoard['lines'][number]['incidents'][number] & { lineId: number })[]> {
  const rows = await tx.incident.findMany({ where: { plantId, state: { not: 'closed' } }, select: { id: true, kind: true, customer: true, defect: true, lineId: true, receivedAt: true, product: { select: { code: true } } }, orderBy: [{ receivedAt: 'desc' }, { id: 'desc' }], take: 200 });
  return rows.map(({ product, defect, receivedAt, ...row }) => ({ ...row, product: product.code, defect: findDefect(defect)?.name ?? defect, receivedAt: receivedAt.toISOString() }));
}
