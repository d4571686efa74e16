import { z } from 'zod';
import type { Tx } from '../platform/work.js';
import type { PlannedTrial } from './trial-order.js';

export type Trial = PlannedTrial & { sequence: number; value: number | null; retakes: number };

export async function insertTrials(tx: Tx, plantId: number, recordId: number, trials: readonly PlannedTrial[]): Promise<void> {
  await tx.gaugeTrial.createMany({ data: trials.map((trial, index) => ({ plantId, recordId, sequence: index + 1, ...trial })) });
}

export async function listTrials(tx: Tx, plantId: number, recordId: number): Promise<Trial[]> {
  const rows = await tx.gaugeTrial.findMany({ where: { plantId, recordId }, orderBy: { sequence: 'asc' } });
  return rows.map(({ sequence, person, part, repeat, value, retakes }) => ({ sequence, person, part, repeat, value, retakes }));
}

export async function updateTrial(tx: Tx, plantId: number, recordId: number, sequence: number, taken: { value: number; enteredBy: number; enteredAt: Date; retakes: number }): Promise<void> {
  await tx.gaugeTrial.update({ where: { plantId_recordId_sequence: { plantId, recordId, sequence } }, data: taken });
}

export async function countTrials(tx: Tx, plantId: number, recordId: number): Promise<{ taken: number; of: number; retakes: number }> {
  const [row] = await tx.$queryRaw<{ taken: number; of: number; retakes: number }[]>`SELECT count(value)::int AS taken, count(*)::int AS of, coalesce(sum(retakes), 0)::int AS retakes FROM gauge_trial WHERE plant_id = ${plantId} AND record_id = ${recordId}`;
  return row ?? { taken: 0, of: 0, retakes: 0 };
}

const subject = z.object({ name: z.string(), unit: z.string(), decimals: z.number(), gaugeStep: z.number(), low: z.number().nullable(), high: z.number().nullable(), gauge: z.string().nullable(), tolerance: z.number().nullable(), specificationId: z.number().nullable() });
export type GaugeSubject = z.infer<typeof subject>;

/** The characteristic with the gauge's name and the width of the specification in force at a moment; null where this plant has no such characteristic, product or gauge. */
export async function findGaugeSubject(tx: Tx, plantId: number, of: { characteristicId: number; gaugeId: number | null; productId: number | null }, at: Date): Promise<GaugeSubject | null> {
  const [row] = await tx.$queryRaw<unknown[]>`
    SELECT c.name, c.unit, c.decimals, c.gauge_step AS "gaugeStep", c.plausible_low AS low, c.plausible_high AS high, CASE WHEN g.id IS NULL THEN NULL ELSE g.code || ' ' || g.name END AS gauge, sp.usl - sp.lsl AS tolerance, CASE WHEN sp.usl - sp.lsl IS NULL THEN NULL ELSE sp.id END AS "specificationId"
    FROM characteristic c
    LEFT JOIN gauge g ON g.plant_id = c.plant_id AND g.id = ${of.gaugeId}::int
    LEFT JOIN product p ON p.plant_id = c.plant_id AND p.id = ${of.productId}::int
    LEFT JOIN LATERAL (SELECT id, lsl, usl FROM specification f WHERE f.plant_id = c.plant_id AND f.product_id = p.id AND f.characteristic_id = c.id AND f.state = 'approved' AND f.effective_from <= ${at.toISOString()}::timestamptz ORDER BY f.effective_from DESC, f.revision DESC LIMIT 1) sp ON true
    WHERE c.plant_id = ${plantId} AND c.id = ${of.characteristicId} AND (${of.gaugeId}::int IS NULL OR g.id IS NOT NULL) AND (${of.productId}::int IS NULL OR p.id IS NOT NULL)`;
  return row === undefined ? null : subject.parse(row);
}
