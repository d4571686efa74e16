import { z } from 'zod';
import type { Tx } from '../platform/work.js';

/** Which readings a study rests on, by reference. A span without its end holds `from` and ends before `to`. */
export const inputsScope = z.object({
  streamId: z.number().nullable(), product: z.number().nullable(), machine: z.number().nullable(), characteristic: z.number().nullable(), unit: z.number().nullable(), lane: z.number().nullable(),
  spans: z.array(z.object({ from: z.string(), to: z.string(), withEnd: z.boolean() })).min(1), leftOut: z.array(z.number()),
});
export type InputsScope = z.infer<typeof inputsScope>;

/**
 * SHA-256 (hexadecimal) over every reading in scope with its check, moment, gauge and formula version, in order of stream
 * and time: a correction, a late check or one taken back gives another.
 */
export async function hashInputs(tx: Tx, plantId: number, scope: InputsScope): Promise<{ hash: string; subgroups: number }> {
  const [row] = await tx.$queryRaw<{ hash: string; subgroups: number }[]>`
    SELECT count(*)::int AS subgroups, encode(sha256(convert_to(coalesce(string_agg(jsonb_build_array(g.stream_id, to_char(g.taken_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US'), g.sequence, g.check_id, g.readings, g.gauge_id, g.formula)::text, E'\n' ORDER BY g.stream_id, g.taken_at, g.sequence), ''), 'UTF8')), 'hex') AS hash
    FROM stream s
    JOIN jsonb_to_recordset(${JSON.stringify(scope.spans)}::jsonb) AS span("from" timestamptz, "to" timestamptz, "withEnd" boolean) ON true
    JOIN subgroup g ON g.plant_id = s.plant_id AND g.stream_id = s.id AND g.n > 0 AND g.taken_at >= span."from" AND (g.taken_at < span."to" OR (span."withEnd" AND g.taken_at = span."to"))
    JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL AND NOT c.id = ANY(${scope.leftOut}::int[])
    WHERE s.plant_id = ${plantId} AND (${scope.streamId}::int IS NULL OR s.id = ${scope.streamId}::int) AND (${scope.product}::int IS NULL OR s.product_id = ${scope.product}::int)
      AND (${scope.machine}::int IS NULL OR s.machine_id = ${scope.machine}::int) AND (${scope.characteristic}::int IS NULL OR s.characteristic_id = ${scope.characteristic}::int)
      AND (${scope.unit}::int IS NULL OR s.unit_id = ${scope.unit}::int) AND (${scope.lane}::int IS NULL OR s.lane_id = ${scope.lane}::int)`;
  if (!row) throw new RangeError('hashInputs: needs one row, none given');
  return row;
}

/** How many subgroups of the scope each check holds that is to be left out. */
export async function countLeftOut(tx: Tx, plantId: number, scope: InputsScope, checkIds: readonly number[]): Promise<Map<number, number>> {
  const [span] = scope.spans;
  const rows = await tx.$queryRaw<{ id: number; subgroups: number }[]>`
    SELECT g.check_id AS id, count(*)::int AS subgroups FROM stream s JOIN subgroup g ON g.plant_id = s.plant_id AND g.stream_id = s.id AND g.n > 0
      AND g.taken_at >= ${span?.from}::timestamptz AND g.taken_at < ${span?.to}::timestamptz
    JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL
    WHERE s.plant_id = ${plantId} AND s.product_id = ${scope.product} AND s.machine_id = ${scope.machine} AND s.characteristic_id = ${scope.characteristic} AND g.check_id = ANY(${[...checkIds]}::int[])
      AND (${scope.unit}::int IS NULL OR s.unit_id = ${scope.unit}::int) AND (${scope.lane}::int IS NULL OR s.lane_id = ${scope.lane}::int)
    GROUP BY g.check_id`;
  return new Map(rows.map(({ id, subgroups }) => [id, subgroups]));
}
