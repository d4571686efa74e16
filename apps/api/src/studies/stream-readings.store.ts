import { z } from 'zod';
import type { Tx } from '../platform/work.js';
import type { Period, StudyOf } from './studies.store.js';

const row = z.object({
  id: z.number(), unit: z.object({ id: z.number(), code: z.string() }).nullable(), lane: z.object({ id: z.number(), code: z.string() }).nullable(),
  chartKind: z.enum(['xbar-r', 'xbar-s', 'i-mr']), basis: z.enum(['reading', 'can']), rules: z.array(z.string()),
  judged: z.number(), corrected: z.number(), withoutGauge: z.number(), formulas: z.array(z.string()), withoutFormula: z.boolean(),
  /** In time order: the readings can by can and position by position, and how many positions a can has. */
  groups: z.array(z.tuple([z.array(z.number().nullable()), z.number().int().positive()])),
});
export type StreamReadings = z.infer<typeof row>;

/**
 * All readings of the streams of one product, machine and characteristic in a period, by one statement and one row a
 * stream: a year of checks is a few megabytes of JSON, and not a hundred thousand rows through the driver.
 * Voided checks are left out, and those that are named.
 */
export async function listStreamReadings(tx: Tx, plantId: number, of: StudyOf & { unit?: number; lane?: number }, { from, to }: Period, leftOut: readonly number[] = []): Promise<StreamReadings[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT s.id, s.chart_kind AS "chartKind", s.basis, s.rules,
      CASE WHEN u.id IS NULL THEN NULL ELSE jsonb_build_object('id', u.id, 'code', u.code) END AS unit,
      CASE WHEN la.id IS NULL THEN NULL ELSE jsonb_build_object('id', la.id, 'code', la.code) END AS lane,
      (count(*) FILTER (WHERE g.limits_id IS NOT NULL))::int AS judged, (count(*) FILTER (WHERE g.revision > 1))::int AS corrected,
      (count(*) FILTER (WHERE g.gauge_id IS NULL))::int AS "withoutGauge",
      coalesce(array_agg(DISTINCT g.formula) FILTER (WHERE g.formula IS NOT NULL), '{}') AS formulas, bool_or(g.formula IS NULL) AS "withoutFormula",
      json_agg(json_build_array(to_json(g.readings), greatest(1, cardinality(c.positions))) ORDER BY g.taken_at, g.sequence) AS groups
    FROM stream s
    JOIN subgroup g ON g.plant_id = s.plant_id AND g.stream_id = s.id AND g.n > 0
      AND g.taken_at >= ${from.toISOString()}::timestamptz AND g.taken_at < ${to.toISOString()}::timestamptz
    JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL AND NOT c.id = ANY(${[...leftOut]}::int[])
    LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id
    LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
    WHERE s.plant_id = ${plantId} AND s.product_id = ${of.product} AND s.machine_id = ${of.machine} AND s.characteristic_id = ${of.characteristic}
      AND (${of.unit ?? null}::int IS NULL OR s.unit_id = ${of.unit ?? null}::int) AND (${of.lane ?? null}::int IS NULL OR s.lane_id = ${of.lane ?? null}::int)
    GROUP BY s.plant_id, s.id, u.plant_id, u.id, la.plant_id, la.id
    ORDER BY u.position NULLS FIRST, la.position NULLS FIRST, s.id`;
  return z.array(row).parse(rows);
}
