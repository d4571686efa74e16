import type { Shift } from '#canmaking/line/shifts';
import type { Surrounding } from '#contract/incidents';
import type { Tx } from '../platform/work.js';

export type Span = { from: Date; to: Date };
const MOST = 2000;
const utc = 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"';

/** Checks, signals and line events of one line in a span of time, in order, at most 2,000 of each. */
export async function listSurroundings(tx: Tx, plantId: number, incidentId: number, lineId: number, { from, to }: Span): Promise<Surrounding[]> {
  const rows = await tx.$queryRaw<{ row: Surrounding }[]>`
    WITH machines AS (
      SELECT m.id, m.code, m.name, t.kind FROM machine m JOIN step t ON t.plant_id = m.plant_id AND t.id = m.step_id WHERE m.plant_id = ${plantId} AND t.line_id = ${lineId}),
    checks AS (
      SELECT k.taken_at AS at, jsonb_build_object('kind', 'check', 'at', to_char(k.taken_at AT TIME ZONE 'UTC', ${utc}), 'machineId', m.id, 'machine', m.code, 'machineName', m.name, 'stepKind', m.kind,
        'checkId', k.id, 'inspector', k.inspector, 'gauges', (SELECT coalesce(jsonb_agg(DISTINCT jsonb_build_object('code', w.code, 'overdue', coalesce(w.calibration_due < k.taken_at, false))), '[]') FROM subgroup s JOIN gauge w ON w.plant_id = s.plant_id AND w.id = s.gauge_id WHERE s.plant_id = k.plant_id AND s.check_id = k.id),
        'subgroups', g.subgroups,
        'status', CASE WHEN g.fired THEN 'signal' WHEN g.judged = g.subgroups AND g.subgroups > 0 THEN 'steady' ELSE 'not-judged' END) AS row
      FROM "check" k JOIN machines m ON m.id = k.machine_id
      CROSS JOIN LATERAL (SELECT count(*)::int AS subgroups, count(s.limits_id)::int AS judged,
        coalesce(bool_or(EXISTS (SELECT 1 FROM signal_point p WHERE p.plant_id = s.plant_id AND p.stream_id = s.stream_id AND p.taken_at = s.taken_at AND p.sequence = s.sequence)), false) AS fired
        FROM subgroup s WHERE s.plant_id = k.plant_id AND s.check_id = k.id) g
      WHERE k.plant_id = ${plantId} AND k.taken_at BETWEEN ${from} AND ${to} AND k.voided_at IS NULL AND k.source <> 'monitor' ORDER BY k.taken_at LIMIT ${MOST}),
    signals AS (
      SELECT g.fired_at AS at, jsonb_build_object('kind', 'signal', 'at', to_char(g.fired_at AT TIME ZONE 'UTC', ${utc}), 'lastAt', to_char(g.last_at AT TIME ZONE 'UTC', ${utc}),
        'machineId', m.id, 'machine', m.code, 'machineName', m.name, 'stepKind', m.kind, 'signalId', g.id, 'chart', g.chart, 'rule', g.rule, 'side', g.side, 'state', g.state,
        'characteristicName', c.name, 'machineUnit', u.code, 'lane', la.code,
        'linked', EXISTS (SELECT 1 FROM incident_signal k WHERE k.plant_id = g.plant_id AND k.signal_id = g.id AND k.incident_id = ${incidentId})) AS row
      FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machines m ON m.id = s.machine_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
      LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
      WHERE g.plant_id = ${plantId} AND g.first_at <= ${to} AND g.last_at >= ${from} ORDER BY g.fired_at LIMIT ${MOST}),
    events AS (
      SELECT e.at, jsonb_build_object('kind', 'event', 'at', to_char(e.at AT TIME ZONE 'UTC', ${utc}), 'until', to_char(e.until AT TIME ZONE 'UTC', ${utc}), 'machineId', m.id, 'machine', m.code, 'machineName', m.name, 'stepKind', m.kind,
        'eventId', e.id, 'eventKind', e.kind, 'text', e.text, 'actor', e.actor) AS row
      FROM line_event e LEFT JOIN machines m ON m.id = e.machine_id
      WHERE e.plant_id = ${plantId} AND e.line_id = ${lineId} AND e.at <= ${to} AND coalesce(e.until, e.at) >= ${from} ORDER BY e.at LIMIT ${MOST})
    SELECT row FROM (SELECT * FROM checks UNION ALL SELECT * FROM signals UNION ALL SELECT * FROM events) AS around ORDER BY at`;
  return rows.map(({ row }) => row);
}

/** The shifts of the plant, and the zone of its clocks. */
export async function findShifts(tx: Tx, plantId: number): Promise<{ shifts: Shift[]; timeZone: string }> {
  const { timeZone, shifts } = await tx.plant.findUniqueOrThrow({ where: { id: plantId }, select: { timeZone: true, shifts: { select: { name: true, beginMinute: true, endMinute: true, days: true } } } });
  return { timeZone, shifts };
}
