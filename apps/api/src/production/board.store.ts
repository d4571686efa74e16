import { findDefect } from '#canmaking/defects/taxonomy';
import type { NowBoard } from '#contract/signals';
import { Prisma } from '../platform/generated/client.js';
import type { Reading } from '../platform/reading.js';

export type BoardMachine = {
  lineId: number; lineCode: string; lineName: string; stepId: number; stepKind: string; id: number | null; code: string | null; name: string | null;
  openSignals: number; streamId: number | null; limits: boolean; judgedLately: boolean; lastCheckAt: Date | null;
  /** End of the line's last span with cans; null where nothing is counted. */
  lineCountEnd: Date | null;
};
/** How long a verdict stands before a machine counts as not judged: a day of the line, not of the calendar. */
const JUDGED_WITHIN_MS = 86_400_000;

/** Every machine of every line in process order, with what its state is made of; a step without machines is one row with id null. Rests on `newestOfMachines`. */
export function boardMachines(plantId: number, now: Date): Reading<BoardMachine> {
  const lately = `${JUDGED_WITHIN_MS / 1000} seconds`;
  return { moments: ['lineCountEnd', 'lastCheckAt'], sql: Prisma.sql`
    SELECT l.id AS "lineId", l.code AS "lineCode", l.name AS "lineName", p.id AS "stepId", p.kind AS "stepKind", m.id, m.code, m.name, e.ended AS "lineCountEnd",
      coalesce(charts.signals, 0) AS "openSignals", charts.stream_id AS "streamId", coalesce(charts.limits, false) AS limits,
      (w.check_at >= least(${now}::timestamptz, e.ended) - ${lately}::interval AND EXISTS (SELECT 1 FROM subgroup b WHERE b.plant_id = m.plant_id AND b.check_id = w.check_id AND b.limits_id IS NOT NULL)) IS TRUE
        OR EXISTS (SELECT 1 FROM "check" c JOIN subgroup b ON b.plant_id = c.plant_id AND b.check_id = c.id WHERE c.plant_id = m.plant_id AND c.machine_id = m.id AND c.voided_at IS NULL AND b.limits_id IS NOT NULL
        AND c.taken_at >= least(${now}::timestamptz, e.ended) - ${lately}::interval) AS "judgedLately",
      CASE WHEN w.check_source <> 'monitor' THEN w.check_at ELSE (SELECT c.taken_at FROM "check" c WHERE c.plant_id = m.plant_id AND c.machine_id = m.id AND c.voided_at IS NULL AND c.source <> 'monitor' ORDER BY c.taken_at DESC LIMIT 1) END AS "lastCheckAt"
    FROM line l JOIN step p ON p.plant_id = l.plant_id AND p.line_id = l.id
    LEFT JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id AND m.retired_at IS NULL
    LEFT JOIN newest w ON w.machine_id = m.id LEFT JOIN (SELECT line_id, max(ended) AS ended FROM newest GROUP BY line_id) e ON e.line_id = l.id
    -- All charts in one go: looked up machine by machine, the planner reads them all for each.
    LEFT JOIN (
      SELECT s.machine_id, min(s.id) AS stream_id, bool_or(EXISTS (SELECT 1 FROM limits f WHERE f.plant_id = s.plant_id AND f.stream_id = s.id AND f.effective_from <= ${now})) AS limits,
        sum((SELECT count(*) FROM signal g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id AND g.state IN ('open', 'acknowledged')))::int AS signals
      FROM stream s WHERE s.plant_id = ${plantId} GROUP BY s.machine_id) charts ON charts.machine_id = m.id
    WHERE l.plant_id = ${plantId} ORDER BY l.position, l.id, p.position, m.code` };
}

type BoardIncident = NowBoard['lines'][number]['incidents'][number] & { lineId: number };
export type BoardIncidentRow = Omit<BoardIncident, 'receivedAt'> & { receivedAt: Date };

/** Incidents that are not closed, newest first, with the line they were traced to. */
export const boardIncidents = (plantId: number): Reading<BoardIncidentRow> => ({ moments: ['receivedAt'], sql: Prisma.sql`
  SELECT i.id, i.kind, i.customer, i.defect, i.line_id AS "lineId", i.received_at AS "receivedAt", p.code AS product
  FROM incident i JOIN product p ON p.plant_id = i.plant_id AND p.id = i.product_id WHERE i.plant_id = ${plantId} AND i.state <> 'closed' ORDER BY i.received_at DESC, i.id DESC LIMIT 200` });

export const boardIncidentOf = ({ defect, receivedAt, ...row }: BoardIncidentRow): BoardIncident => ({ ...row, defect: findDefect(defect)?.name ?? defect, receivedAt: receivedAt.toISOString() });

type OverdueIncident = NowBoard['overdue'][number];
export type OverdueRow = Omit<OverdueIncident, 'dueAt'> & { dueAt: Date };

/** Incidents whose next step was due before now, longest overdue first. */
export const overdueIncidents = (plantId: number, now: Date): Reading<OverdueRow> => ({ moments: ['dueAt'], sql: Prisma.sql`
  SELECT i.id, i.customer, i.defect, l.code AS line, i.state, i.due_at AS "dueAt" FROM incident i JOIN line l ON l.plant_id = i.plant_id AND l.id = i.line_id
  WHERE i.plant_id = ${plantId} AND i.due_at < ${now} AND i.state <> 'closed' ORDER BY i.due_at, i.received_at DESC, i.id DESC LIMIT 100` });

export const overdueOf = ({ defect, dueAt, ...row }: OverdueRow): OverdueIncident => ({ ...row, defect: findDefect(defect)?.name ?? defect, dueAt: dueAt.toISOString() });
