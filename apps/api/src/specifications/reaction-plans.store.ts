import type { ReactionPlan, ReactionScope } from '#contract/reaction-plans';
import type { Tx } from '../platform/work.js';

type Row = { id: number; streamId: number | null; characteristicId: number | null; stepKind: string; characteristic: string; machine: string | null; unit: string | null; version: number; steps: string[]; author: string; at: Date; reason: string };

function viewOf({ streamId, characteristicId, at, ...row }: Row): ReactionPlan {
  const scope: ReactionScope = streamId === null ? { kind: 'step', characteristicId: characteristicId ?? 0, stepKind: row.stepKind } : { kind: 'stream', streamId };
  return { ...row, scope, at: at.toISOString() };
}

type Asked = { id?: number; streamId?: number; characteristicId?: number; stepKind?: string };
/** Every version of the plans asked for, newest first within each scope. */
export async function listVersions(tx: Tx, plantId: number, { id, streamId, characteristicId, stepKind }: Asked = {}): Promise<ReactionPlan[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT r.id, r.stream_id AS "streamId", r.characteristic_id AS "characteristicId", coalesce(r.step_kind, p.kind) AS "stepKind", c.name AS characteristic, m.code AS machine, u.code AS unit, r.version, r.steps, r.author, r.at, r.reason
    FROM reaction_plan r LEFT JOIN stream s ON s.plant_id = r.plant_id AND s.id = r.stream_id
    JOIN characteristic c ON c.plant_id = r.plant_id AND c.id = coalesce(r.characteristic_id, s.characteristic_id)
    LEFT JOIN machine m ON m.plant_id = r.plant_id AND m.id = s.machine_id LEFT JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id LEFT JOIN unit u ON u.plant_id = r.plant_id AND u.id = s.unit_id
    WHERE r.plant_id = ${plantId} AND (${id ?? null}::int IS NULL OR r.id = ${id ?? null}) AND (${streamId ?? null}::int IS NULL OR r.stream_id = ${streamId ?? null})
      AND (${characteristicId ?? null}::int IS NULL OR (r.characteristic_id = ${characteristicId ?? null} AND r.step_kind = ${stepKind ?? null}))
    ORDER BY c.name, r.step_kind NULLS LAST, m.code NULLS FIRST, u.position NULLS FIRST, r.stream_id, r.version DESC`;
  return rows.map(viewOf);
}

/** Characteristic and step kind of streams. */
export async function findStreamPlaces(tx: Tx, plantId: number, streamIds: readonly number[]): Promise<{ streamId: number; characteristicId: number; stepKind: string }[]> {
  return tx.$queryRaw<{ streamId: number; characteristicId: number; stepKind: string }[]>`
    SELECT s.id AS "streamId", s.characteristic_id AS "characteristicId", p.kind AS "stepKind" FROM stream s JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id
    WHERE s.plant_id = ${plantId} AND s.id = ANY(${[...streamIds]}::int[])`;
}

export const characteristicExists = async (tx: Tx, plantId: number, id: number) => (await tx.characteristic.count({ where: { plantId, id } })) > 0;

/** One writer of reaction plans a plant at a time, so that two new versions cannot get one number. */
export async function lockReactionPlans(tx: Tx, plantId: number): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('reaction_plan'), ${plantId}::int)`;
}

export async function insertReactionPlan(tx: Tx, plantId: number, row: { streamId: number | null; characteristicId: number | null; stepKind: string | null; version: number; steps: string[]; author: string; authorId: number; reason: string; at: Date }): Promise<number> {
  return (await tx.reactionPlan.create({ data: { plantId, ...row }, select: { id: true } })).id;
}
