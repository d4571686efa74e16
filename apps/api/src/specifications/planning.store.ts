import type { StreamView } from '#contract/specifications';
import { z } from 'zod';
import type { Tx } from '../platform/work.js';
import { streamJoins, streamJson } from './stream-names.store.js';

export async function findStreamView(tx: Tx, plantId: number, id: number): Promise<StreamView | null> {
  const [row] = await tx.$queryRaw<{ stream: StreamView }[]>`SELECT ${streamJson} AS stream FROM stream s ${streamJoins} WHERE s.plant_id = ${plantId} AND s.id = ${id}`;
  return row?.stream ?? null;
}

const variationRow = z.object({
  at: z.date(), sequence: z.number(), formula: z.string().nullable(), judged: z.boolean(), signalled: z.boolean(), positions: z.number().int().positive(), readings: z.array(z.number().nullable()),
});
export type VariationRow = z.infer<typeof variationRow>;

/** The newest checks of a stream in a span, oldest first; voided and empty ones are left out. One more than asked for tells that there are older ones. */
export async function listNewestChecks(tx: Tx, plantId: number, streamId: number, span: { from: Date | null; to: Date | null }, most: number): Promise<VariationRow[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT g.taken_at AS at, g.sequence, g.formula, g.limits_id IS NOT NULL AS judged, greatest(1, cardinality(c.positions)) AS positions, to_jsonb(g.readings) AS readings,
      EXISTS (SELECT 1 FROM signal_point p WHERE p.plant_id = g.plant_id AND p.stream_id = g.stream_id AND p.taken_at = g.taken_at AND p.sequence = g.sequence) AS signalled
    FROM subgroup g JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL
    WHERE g.plant_id = ${plantId} AND g.stream_id = ${streamId} AND g.n > 0
      AND g.taken_at >= coalesce(${span.from}::timestamptz, '-infinity') AND g.taken_at <= coalesce(${span.to}::timestamptz, 'infinity')
    ORDER BY g.taken_at DESC, g.sequence DESC LIMIT ${most}`;
  return z.array(variationRow).parse(rows).reverse();
}

/** Signals of the stream that are not closed and whose pattern touches the span. */
export async function countOpenSignals(tx: Tx, plantId: number, streamId: number, from: Date, to: Date): Promise<number> {
  const [row] = await tx.$queryRaw<{ count: number }[]>`
    SELECT count(*)::int AS count FROM signal WHERE plant_id = ${plantId} AND stream_id = ${streamId} AND state <> 'closed' AND first_at <= ${to} AND last_at >= ${from}`;
  return row?.count ?? 0;
}

export type MachineOutput = { cans: number; minutes: number; first: Date | null };
/** Cans that a machine counted in a span, for how long it made any, and since when. */
export async function sumOutput(tx: Tx, plantId: number, machineId: number, from: Date, to: Date): Promise<MachineOutput> {
  const [row] = await tx.$queryRaw<MachineOutput[]>`
    SELECT coalesce(sum(good + rejected), 0)::float8 AS cans, coalesce(sum(minutes), 0)::float8 AS minutes, min(at) AS first
    FROM production_count WHERE plant_id = ${plantId} AND machine_id = ${machineId} AND at >= ${from} AND at < ${to} AND good + rejected > 0`;
  return row ?? { cans: 0, minutes: 0, first: null };
}

/** The plan in use that asks for all of these characteristics; of several the one by which the newest check of the stream was made, else the first. */
export async function findPlanOf(tx: Tx, plantId: number, stream: { id: number; machineId: number; productId: number }, measured: readonly string[]) {
  const plans = await tx.checkPlan.findMany({ where: { plantId, machineId: stream.machineId, productId: stream.productId, retiredAt: null, characteristics: { hasEvery: [...measured] } }, orderBy: { id: 'asc' } });
  if (plans.length < 2) return plans[0] ?? null;
  const [newest] = await tx.$queryRaw<{ plan_id: number | null }[]>`
    SELECT c.plan_id FROM subgroup g JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL
    WHERE g.plant_id = ${plantId} AND g.stream_id = ${stream.id} ORDER BY g.taken_at DESC, g.sequence DESC LIMIT 1`;
  return plans.find(({ id }) => id === newest?.plan_id) ?? plans[0] ?? null;
}

/** Other streams of the machine and product whose characteristic is one of these. */
export async function countOtherStreams(tx: Tx, plantId: number, stream: { id: number; machineId: number; productId: number }, codes: readonly string[]): Promise<number> {
  return tx.stream.count({ where: { plantId, machineId: stream.machineId, productId: stream.productId, id: { not: stream.id }, characteristic: { code: { in: [...codes] } } } });
}

export async function countLimits(tx: Tx, plantId: number, streamId: number): Promise<number> {
  return tx.limits.count({ where: { plantId, streamId } });
}

export async function updateStream(tx: Tx, plantId: number, id: number, change: { rules: readonly string[]; chartKind?: string }): Promise<void> {
  await tx.stream.update({ where: { plantId_id: { plantId, id } }, data: { rules: [...change.rules], ...(change.chartKind === undefined ? {} : { chartKind: change.chartKind }) } });
}
