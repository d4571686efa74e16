import type { Tx } from '../platform/work.js';

export type WeldSetting = {
  checkId: number; takenAt: Date; lineId: number; machineId: number; machine: string; productId: number; machineUnit: string | null; lane: string | null;
  characteristicId: number; code: string; name: string; unit: string; decimals: number; n: number; low: number; high: number;
  /** The last change of coil at the machine, or of the line as a whole, before the cans were picked. */
  coilAt: Date | null; coilText: string | null;
};
type Asked = { checkId: number } | { machineId: number; from: Date; until: Date; most: number };

/** Recorded settings of a welder, in order of time: those of a check, or of a machine in a span with the last of each stream before it and the next after it. */
export async function listWeldSettings(tx: Tx, plantId: number, characteristicIds: readonly number[], asked: Asked): Promise<WeldSetting[]> {
  const span = 'checkId' in asked ? null : asked;
  const checkId = 'checkId' in asked ? asked.checkId : null;
  return tx.$queryRaw<WeldSetting[]>`
    WITH own AS (SELECT s.plant_id, s.id FROM stream s WHERE s.plant_id = ${plantId} AND s.characteristic_id = ANY(${[...characteristicIds]}::int[]) AND ${span?.machineId ?? null}::int IS NOT NULL AND s.machine_id = ${span?.machineId ?? null}::int),
    place AS (
      SELECT g.stream_id, g.taken_at, g.sequence FROM subgroup g WHERE g.plant_id = ${plantId} AND g.check_id = ${checkId}::int
      UNION ALL
      (SELECT g.stream_id, g.taken_at, g.sequence FROM own JOIN subgroup g ON g.plant_id = own.plant_id AND g.stream_id = own.id WHERE g.taken_at BETWEEN ${span?.from ?? null}::timestamptz AND ${span?.until ?? null}::timestamptz
        ORDER BY g.taken_at, g.stream_id LIMIT ${span?.most ?? 0})
      UNION ALL
      SELECT e.* FROM own CROSS JOIN LATERAL (
        (SELECT g.stream_id, g.taken_at, g.sequence FROM subgroup g WHERE g.plant_id = own.plant_id AND g.stream_id = own.id AND g.taken_at < ${span?.from ?? null}::timestamptz AND g.low IS NOT NULL ORDER BY g.taken_at DESC, g.sequence DESC LIMIT 1)
        UNION ALL
        (SELECT g.stream_id, g.taken_at, g.sequence FROM subgroup g WHERE g.plant_id = own.plant_id AND g.stream_id = own.id AND g.taken_at > ${span?.until ?? null}::timestamptz AND g.low IS NOT NULL ORDER BY g.taken_at, g.sequence LIMIT 1)) e)
    SELECT g.check_id AS "checkId", g.taken_at AS "takenAt", st.line_id AS "lineId", m.id AS "machineId", m.code AS machine, s.product_id AS "productId", u.code AS "machineUnit", la.code AS lane,
      c.id AS "characteristicId", c.code, c.name, c.unit, c.decimals, cardinality(array_remove(g.readings, NULL)) AS n, g.low, g.high, coil.at AS "coilAt", coil.text AS "coilText"
    FROM place p JOIN subgroup g ON g.plant_id = ${plantId} AND g.stream_id = p.stream_id AND g.taken_at = p.taken_at AND g.sequence = p.sequence
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id
    LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
    LEFT JOIN LATERAL (SELECT e.at, e.text FROM line_event e WHERE e.plant_id = g.plant_id AND e.line_id = st.line_id AND e.kind = 'coil-change' AND e.at <= g.taken_at AND (e.machine_id IS NULL OR e.machine_id = m.id)
      ORDER BY e.at DESC, e.id DESC LIMIT 1) coil ON true
    WHERE c.id = ANY(${[...characteristicIds]}::int[]) AND st.kind = 'body-maker' AND g.low IS NOT NULL AND g.high IS NOT NULL
    ORDER BY g.taken_at, c.code, u.position NULLS FIRST, la.position NULLS FIRST`;
}
