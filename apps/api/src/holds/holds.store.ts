import type { Disposition, HoldArithmetic, HoldQuestionBody, HoldState } from '#contract/holds';
import { Problem } from '#contract/problem';
import type { Role } from '#contract/roles';
import type { Actor } from '../platform/audit.js';
import type { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

export type Holder = Actor & { userId: number; role: Role };
export type StoredHold = { id: number; state: HoldState; disposition: string | null; revision: number };
export type NewHold = HoldQuestionBody & { reason: string; signalId: number | null; incidentId: number | null; state: 'proposed' | 'placed' };

const json = (value: unknown) => JSON.parse(JSON.stringify(value)) as Prisma.InputJsonValue;

export async function insertHold(tx: Tx, { plantId, userId }: Holder, { lineId, stepId, machineId, unitId, laneId, from, until, reason, signalId, incidentId, state }: NewHold, arithmetic: HoldArithmetic, now: Date): Promise<number> {
  const { id } = await tx.hold.create({ data: { plantId, lineId, stepId, machineId, unitId, laneId, fromAt: new Date(from), untilAt: new Date(until), reason, signalId, incidentId, state, arithmetic: json(arithmetic), openedBy: userId, openedAt: now, changedAt: now }, select: { id: true } });
  return id;
}

/** Pallets that the hold has already are refused by name. */
export async function insertPallets(tx: Tx, plantId: number, holdId: number, pallets: HoldQuestionBody['pallets']): Promise<void> {
  const known = new Set((await tx.holdPallet.findMany({ where: { plantId, holdId, code: { in: pallets.map(({ code }) => code) } }, select: { code: true } })).map(({ code }) => code));
  const repeated = pallets.flatMap(({ code }, index) => (known.has(code) ? [{ field: `pallets.${index}.code`, row: index + 1, expected: `a pallet that the hold does not have: ${code} is there` }] : []));
  if (repeated.length > 0) throw new Problem('invalid-input', undefined, repeated);
  await tx.holdPallet.createMany({ data: pallets.map(({ code, from, until }) => ({ plantId, holdId, code, fromAt: from === null ? null : new Date(from), untilAt: until === null ? null : new Date(until) })) });
}

export async function insertStep(tx: Tx, actor: Holder, holdId: number, action: string, at: Date, comment: string | null, detail: object | null = null): Promise<number> {
  const { id } = await tx.holdStep.create({ data: { plantId: actor.plantId, holdId, at, userId: actor.userId, actor: actor.name, role: actor.role, action, comment, ...(detail === null ? {} : { detail: json(detail) }) }, select: { id: true } });
  return id;
}

/** The hold, locked for the rest of the transaction, as the person saw it. */
export async function lockHold(tx: Tx, plantId: number, id: number, revision: number): Promise<StoredHold> {
  const [row] = await tx.$queryRaw<StoredHold[]>`SELECT id, state, disposition, revision FROM hold WHERE plant_id = ${plantId} AND id = ${id} FOR UPDATE`;
  if (!row) throw new Problem('not-found', `There is no hold ${id}.`);
  if (row.revision !== revision) throw new Problem('changed-meanwhile', 'Load the hold again and look at what was done.');
  return row;
}

export async function setHold(tx: Tx, plantId: number, id: number, change: { state?: HoldState; disposition?: string | null }, now: Date): Promise<void> {
  await tx.hold.update({ where: { plantId_id: { plantId, id } }, data: { ...change, changedAt: now, revision: { increment: 1 } } });
}

export type StoredPallet = { id: number; code: string; disposition: string | null };
export const listPallets = (tx: Tx, plantId: number, holdId: number): Promise<StoredPallet[]> => tx.holdPallet.findMany({ where: { plantId, holdId }, select: { id: true, code: true, disposition: true }, orderBy: { id: 'asc' } });

export async function decidePallets(tx: Tx, plantId: number, ids: readonly number[], disposition: Disposition | null, decidedIn: number | null): Promise<void> {
  await tx.holdPallet.updateMany({ where: { plantId, id: { in: [...ids] } }, data: { disposition, decidedIn } });
}
