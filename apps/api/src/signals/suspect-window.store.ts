import type { Tx } from '../platform/work.js';

export type WindowFacts = { lastGoodAt: Date | null; nextGoodAt: Date | null; stoppedAt: Date | null; units: number; lanes: number };

/**
 * What bounds the suspect window of a signal. A subgroup is known good when it was judged and lies inside the span of no
 * signal of its stream. A stop ends the doubt only while it lasts: after a stop that ended, the same fault may run on.
 */
export async function findWindowFacts(tx: Tx, plantId: number, signalId: number, now: Date): Promise<WindowFacts> {
  const [row] = await tx.$queryRaw<WindowFacts[]>`
    WITH it AS (
      SELECT g.plant_id, g.stream_id, g.first_at, g.last_at, s.machine_id, s.unit_id, s.lane_id, p.line_id
      FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id
      WHERE g.plant_id = ${plantId} AND g.id = ${signalId})
    SELECT
      (SELECT b.taken_at FROM subgroup b WHERE b.plant_id = it.plant_id AND b.stream_id = it.stream_id AND b.taken_at < it.first_at AND b.limits_id IS NOT NULL AND b.mean IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM signal o WHERE o.plant_id = b.plant_id AND o.stream_id = b.stream_id AND o.firings > 0 AND b.taken_at BETWEEN o.first_at AND o.last_at) ORDER BY b.taken_at DESC LIMIT 1) AS "lastGoodAt",
      (SELECT b.taken_at FROM subgroup b WHERE b.plant_id = it.plant_id AND b.stream_id = it.stream_id AND b.taken_at > it.last_at AND b.limits_id IS NOT NULL AND b.mean IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM signal o WHERE o.plant_id = b.plant_id AND o.stream_id = b.stream_id AND o.firings > 0 AND b.taken_at BETWEEN o.first_at AND o.last_at) ORDER BY b.taken_at LIMIT 1) AS "nextGoodAt",
      (SELECT e.at FROM line_event e WHERE e.plant_id = it.plant_id AND e.line_id = it.line_id AND (e.machine_id = it.machine_id OR e.machine_id IS NULL) AND e.kind = 'stop' AND e.at > it.last_at AND e.at <= ${now} AND (e.until IS NULL OR e.until > ${now})
        AND NOT EXISTS (SELECT 1 FROM line_event r WHERE r.plant_id = e.plant_id AND r.line_id = e.line_id AND r.kind = 'start' AND (r.machine_id = it.machine_id OR r.machine_id IS NULL) AND r.at > e.at AND r.at <= ${now})
        ORDER BY e.at LIMIT 1) AS "stoppedAt",
      CASE WHEN it.unit_id IS NULL THEN 1 ELSE greatest(1, (SELECT count(*) FROM unit u WHERE u.plant_id = it.plant_id AND u.machine_id = it.machine_id)) END::int AS units,
      CASE WHEN it.lane_id IS NULL THEN 1 ELSE greatest(1, (SELECT count(*) FROM lane n WHERE n.plant_id = it.plant_id AND n.line_id = it.line_id)) END::int AS lanes
    FROM it`;
  return row ?? { lastGoodAt: null, nextGoodAt: null, stoppedAt: null, units: 1, lanes: 1 };
}

/** Production counts of a machine that touch the span; a span of counting is at most a day long. */
export async function listCountBuckets(tx: Tx, plantId: number, machineId: number, from: Date, until: Date): Promise<{ at: number; minutes: number; good: number }[]> {
  const rows = await tx.$queryRaw<{ at: Date; minutes: number; good: number }[]>`
    SELECT at, minutes, good FROM production_count
    WHERE plant_id = ${plantId} AND machine_id = ${machineId} AND at > ${new Date(from.getTime() - 86_400_000)} AND at < ${until} AND at + make_interval(secs => minutes * 60) > ${from} ORDER BY at`;
  return rows.map((row) => ({ ...row, at: row.at.getTime() }));
}

export type Likeness = { kind: 'unit' | 'lane' | 'machine'; code: string; signalled: boolean };

/** The like of a signal's stream: units and lanes of its machine, machines of its step, that measure the same; and which of them signalled in the span. */
export async function listLikes(tx: Tx, plantId: number, signalId: number, from: Date, until: Date): Promise<Likeness[]> {
  return tx.$queryRaw<Likeness[]>`
    WITH it AS (
      SELECT s.*, m.step_id FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id
      WHERE g.plant_id = ${plantId} AND g.id = ${signalId}),
    alike AS (
      SELECT o.machine_id, o.unit_id, o.lane_id, m.code AS machine, u.code AS unit, n.code AS lane, o.machine_id = it.machine_id AS same,
        EXISTS (SELECT 1 FROM signal g WHERE g.plant_id = o.plant_id AND g.stream_id = o.id AND g.firings > 0 AND g.first_at <= ${until} AND g.last_at >= ${from}) AS signalled
      FROM it JOIN stream o ON o.plant_id = it.plant_id AND o.characteristic_id = it.characteristic_id AND o.product_id = it.product_id
      JOIN machine m ON m.plant_id = o.plant_id AND m.id = o.machine_id AND m.step_id = it.step_id
      LEFT JOIN unit u ON u.plant_id = o.plant_id AND u.id = o.unit_id LEFT JOIN lane n ON n.plant_id = o.plant_id AND n.id = o.lane_id)
    SELECT 'unit' AS kind, unit AS code, bool_or(signalled) AS signalled FROM alike WHERE same AND unit IS NOT NULL GROUP BY unit
    UNION ALL SELECT 'lane', lane, bool_or(signalled) FROM alike WHERE same AND lane IS NOT NULL GROUP BY lane
    UNION ALL SELECT 'machine', machine, bool_or(signalled) FROM alike GROUP BY machine
    ORDER BY kind, code`;
}
