import { type ChartKind } from '#statistics/charts/limits';
import { ALL_RULES, RULE_NAMES } from '#statistics/rules/run-rules';
import { type RuleName } from '#statistics/rules/verdict';
import { z } from 'zod';
import type { Tx } from '../platform/work.js';

export type StreamIdentity = { characteristicId: number; productId: number; machineId: number; laneId: number | null; unitId: number | null };
export type Stream = StreamIdentity & { id: number; chartKind: ChartKind; basis: 'reading' | 'can'; rules: RuleName[]; revision: number };

const streamRow = z.object({
  id: z.number(), characteristic_id: z.number(), product_id: z.number(), machine_id: z.number(), lane_id: z.number().nullable(), unit_id: z.number().nullable(),
  chart_kind: z.enum(['xbar-r', 'xbar-s', 'i-mr']), basis: z.enum(['reading', 'can']), revision: z.number(),
  rules: z.array(z.enum(ALL_RULES)),
});

function toStream(row: unknown): Stream {
  const parsed = streamRow.parse(row);
  return {
    id: parsed.id, characteristicId: parsed.characteristic_id, productId: parsed.product_id, machineId: parsed.machine_id, laneId: parsed.lane_id, unitId: parsed.unit_id,
    chartKind: parsed.chart_kind, basis: parsed.basis, rules: parsed.rules, revision: parsed.revision,
  };
}

/**
 * Locks the streams until the transaction ends (one writer a stream, else two half-seen series are judged) and raises
 * their revision. Always in the order of id, so that two checks that share streams cannot block each other for good.
 */
export async function lockStreams(tx: Tx, plantId: number, identities: readonly StreamIdentity[]): Promise<Stream[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    WITH wanted AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(identities)}::jsonb) AS w("characteristicId" int, "productId" int, "machineId" int, "laneId" int, "unitId" int)),
    locked AS MATERIALIZED (
      SELECT s.id FROM stream s JOIN wanted w ON s.plant_id = ${plantId} AND s.characteristic_id = w."characteristicId" AND s.product_id = w."productId" AND s.machine_id = w."machineId"
        AND s.lane_id IS NOT DISTINCT FROM w."laneId" AND s.unit_id IS NOT DISTINCT FROM w."unitId"
      ORDER BY s.id FOR UPDATE OF s)
    UPDATE stream s SET revision = s.revision + 1 FROM locked WHERE s.plant_id = ${plantId} AND s.id = locked.id
    RETURNING s.id, s.characteristic_id, s.product_id, s.machine_id, s.lane_id, s.unit_id, s.chart_kind, s.basis, s.rules, s.revision`;
  return rows.map(toStream);
}

/** The same by id, for corrections and new limits. */
export async function lockStreamsById(tx: Tx, plantId: number, ids: readonly number[]): Promise<Stream[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    WITH locked AS MATERIALIZED (SELECT id FROM stream WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[]) ORDER BY id FOR UPDATE)
    UPDATE stream s SET revision = s.revision + 1 FROM locked WHERE s.plant_id = ${plantId} AND s.id = locked.id
    RETURNING s.id, s.characteristic_id, s.product_id, s.machine_id, s.lane_id, s.unit_id, s.chart_kind, s.basis, s.rules, s.revision`;
  return rows.map(toStream);
}

/** One stream as it is, not locked: for looking, not for writing. */
export async function findStream(tx: Tx, plantId: number, id: number): Promise<Stream | null> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT id, characteristic_id, product_id, machine_id, lane_id, unit_id, chart_kind, basis, rules, revision FROM stream WHERE plant_id = ${plantId} AND id = ${id}`;
  return rows.length === 0 ? null : toStream(rows[0]);
}

/** Streams by id, not locked. */
export async function listStreams(tx: Tx, plantId: number, ids: readonly number[]): Promise<Stream[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT id, characteristic_id, product_id, machine_id, lane_id, unit_id, chart_kind, basis, rules, revision FROM stream WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[])`;
  return rows.map(toStream);
}

/** Makes the streams that are not there yet, with the chart kind and basis of their characteristic and all four rules. */
export async function insertStreams(tx: Tx, plantId: number, identities: readonly StreamIdentity[]): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO stream (plant_id, characteristic_id, product_id, machine_id, lane_id, unit_id, chart_kind, basis, rules)
    SELECT ${plantId}, w."characteristicId", w."productId", w."machineId", w."laneId", w."unitId", c.chart_kind, c.basis, ${[...RULE_NAMES]}::text[]
    FROM jsonb_to_recordset(${JSON.stringify(identities)}::jsonb) AS w("characteristicId" int, "productId" int, "machineId" int, "laneId" int, "unitId" int)
    JOIN characteristic c ON c.plant_id = ${plantId} AND c.id = w."characteristicId"
    ORDER BY w."machineId", w."productId", w."characteristicId", w."laneId", w."unitId" -- one order for all, or two first checks wait for each other
    ON CONFLICT DO NOTHING`;
}
