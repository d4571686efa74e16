import type { Tx } from '../platform/work.js';
import { parseReadings } from './body-chunks.store.js';

export type BodiesAsked = { machine: number; characteristic: number; product?: number | undefined; unit?: number | undefined; lane?: number | undefined; from: string; to: string };
/** Where a page ended. */
export type BodyPlace = { minute: number; streamId: number; part: number };
export type BodyRow = { streamId: number; product: string; unit: string | null; lane: string | null; minute: Date; part: number; first: number | null; offsets: number[]; readings: (number | null)[] };

/** Codes of machine and characteristic and the unit of measure, or null where one of them is not there. */
export async function findMeasured(tx: Tx, plantId: number, machineId: number, characteristicId: number): Promise<{ machine: string; characteristic: string; measure: string } | null> {
  const [row] = await tx.$queryRaw<{ machine: string; characteristic: string; measure: string }[]>`
    SELECT m.code AS machine, c.code AS characteristic, c.unit AS measure FROM machine m JOIN characteristic c ON c.plant_id = m.plant_id AND c.id = ${characteristicId} WHERE m.plant_id = ${plantId} AND m.id = ${machineId}`;
  return row ?? null;
}

/** Minutes with every-body readings from `from` on and before `to`, oldest first, behind `after`; those that were kept when their month was dropped stand among them. */
export async function listBodyMinutes(tx: Tx, plantId: number, asked: BodiesAsked, after: BodyPlace | null, take: number): Promise<BodyRow[]> {
  const { minute, streamId, part } = after ?? { minute: -1, streamId: 0, part: 0 };
  const rows = await tx.$queryRaw<(Omit<BodyRow, 'first' | 'readings'> & { first: bigint | null; readings: string })[]>`
    WITH of_these AS (
      SELECT s.id, p.code AS product, u.code AS unit, l.code AS lane FROM stream s JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id
        LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = s.plant_id AND l.id = s.lane_id
      WHERE s.plant_id = ${plantId} AND s.machine_id = ${asked.machine} AND s.characteristic_id = ${asked.characteristic} AND (${asked.product ?? null}::int IS NULL OR s.product_id = ${asked.product ?? null}::int)
        AND (${asked.unit ?? null}::int IS NULL OR s.unit_id = ${asked.unit ?? null}::int) AND (${asked.lane ?? null}::int IS NULL OR s.lane_id = ${asked.lane ?? null}::int)),
    found AS (
      SELECT c.stream_id, c.minute, c.part, c.first_count, c.offsets, c.readings FROM body_chunk c
      WHERE c.plant_id = ${plantId} AND c.stream_id IN (SELECT id FROM of_these) AND c.minute >= ${asked.from}::timestamptz AND c.minute < ${asked.to}::timestamptz AND (c.minute, c.stream_id, c.part) > (to_timestamp(${minute}::float8 / 1000), ${streamId}::int, ${part}::int)
      UNION ALL
      SELECT k.stream_id, k.minute, k.part, k.first_count, k.offsets, k.readings FROM body_chunk_kept k
      WHERE k.plant_id = ${plantId} AND k.stream_id IN (SELECT id FROM of_these) AND k.minute >= ${asked.from}::timestamptz AND k.minute < ${asked.to}::timestamptz AND (k.minute, k.stream_id, k.part) > (to_timestamp(${minute}::float8 / 1000), ${streamId}::int, ${part}::int)
        AND NOT EXISTS (SELECT 1 FROM body_chunk c WHERE c.plant_id = k.plant_id AND c.stream_id = k.stream_id AND c.minute = k.minute AND c.part = k.part)
      ORDER BY minute, stream_id, part LIMIT ${take})
    SELECT f.stream_id AS "streamId", t.product, t.unit, t.lane, f.minute, f.part, f.first_count AS first, f.offsets, f.readings::text AS readings FROM found f JOIN of_these t ON t.id = f.stream_id ORDER BY f.minute, f.stream_id, f.part`;
  return rows.map(({ first, readings, ...row }) => ({ ...row, first: first === null ? null : Number(first), readings: parseReadings(readings) }));
}
