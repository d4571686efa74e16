import type { Tx } from '../platform/work.js';

type CharacteristicFields = { name: string; gaugeStep: number; decimals: number; plausibleLow: number | null; plausibleHigh: number | null; chartKind: string; basis: string };
export type NewCharacteristic = CharacteristicFields & { code: string; unit: string; kind: string; stepKind: string; formula: string | null };
const NAMED = { id: true } as const;

export async function insertCharacteristic(tx: Tx, plantId: number, characteristic: NewCharacteristic): Promise<number> {
  return (await tx.characteristic.create({ data: { plantId, ...characteristic }, select: NAMED })).id;
}
export const listCharacteristicCodes = async (tx: Tx, plantId: number) => (await tx.characteristic.findMany({ where: { plantId }, select: { code: true } })).map((row) => row.code);
export const findCharacteristic = (tx: Tx, plantId: number, id: number) => tx.characteristic.findUnique({ where: { plantId_id: { plantId, id } } });
export const updateCharacteristic = (tx: Tx, plantId: number, id: number, change: CharacteristicFields) => tx.characteristic.update({ where: { plantId_id: { plantId, id } }, data: change });

export const productExists = async (tx: Tx, plantId: number, id: number) => (await tx.product.count({ where: { plantId, id } })) > 0;
export const machineExists = async (tx: Tx, plantId: number, id: number) => (await tx.machine.count({ where: { plantId, id } })) > 0;
export const listMeasuredOrDerived = (tx: Tx, plantId: number) => tx.characteristic.findMany({ where: { plantId }, select: { code: true, formula: true } });
/** How many units a machine has, and how many lanes its line. */
export async function countParts(tx: Tx, plantId: number, machineId: number): Promise<{ units: number; lanes: number }> {
  const [units, lanes] = [await tx.unit.count({ where: { plantId, machineId } }), await tx.lane.count({ where: { plantId, line: { steps: { some: { machines: { some: { id: machineId } } } } } } })];
  return { units, lanes };
}

type Revision = { productId: number; characteristicId: number; lsl: number | null; target: number | null; usl: number | null; effectiveFrom: Date; reason: string; authorId: number };
/** The next revision; the characteristic's row is locked so that two authors cannot get one number. */
export async function insertSpecification(tx: Tx, plantId: number, revision: Revision): Promise<{ id: number; revision: number }> {
  await tx.$queryRaw`SELECT id FROM characteristic WHERE plant_id = ${plantId} AND id = ${revision.characteristicId} FOR UPDATE`;
  const { _max } = await tx.specification.aggregate({ where: { plantId, productId: revision.productId, characteristicId: revision.characteristicId }, _max: { revision: true } });
  return tx.specification.create({ data: { plantId, ...revision, state: 'proposed', revision: (_max.revision ?? 0) + 1 }, select: { id: true, revision: true } });
}

type StoredRevision = { plantId: number; id: number; productId: number; characteristicId: number; revision: number; lsl: number | null; target: number | null; usl: number | null; effectiveFrom: Date; authorId: number; reason: string; createdAt: Date; state: string; decidedAt: Date | null; decision: string };
export type RevisionRow = StoredRevision & { author: { name: string }; decider: string | null };

/** Newest first, of one product, or every revision that waits for a decision. */
export async function listRevisions(tx: Tx, plantId: number, productId: number | undefined, characteristicId: number | undefined, state?: 'proposed'): Promise<RevisionRow[]> {
  const rows = await tx.specification.findMany({ where: { plantId, productId, characteristicId, state }, include: { author: { select: { name: true } } }, orderBy: [{ characteristicId: 'asc' }, { effectiveFrom: 'desc' }, { revision: 'desc' }] });
  const deciders = await tx.user.findMany({ where: { plantId, id: { in: rows.flatMap((row) => row.decidedBy ?? []) } }, select: { id: true, name: true } });
  return rows.map(({ decidedBy, ...row }) => ({ ...row, decider: deciders.find((person) => person.id === decidedBy)?.name ?? null }));
}

export type Decision = { state: 'approved' | 'rejected'; decidedBy: number; decidedAt: Date; decision: string };
/** False where it does not wait for a decision (any more). */
export async function decideSpecification(tx: Tx, plantId: number, id: number, decision: Decision): Promise<boolean> {
  return (await tx.specification.updateMany({ where: { plantId, id, state: 'proposed' }, data: decision })).count === 1;
}
export const findSpecification = (tx: Tx, plantId: number, id: number) => tx.specification.findUnique({ where: { plantId_id: { plantId, id } } });

export type PlanDue = { everyCans: number | null; cansSource: string; unitsEachTime: number | null; openedBy: string[]; longStopMinutes: number | null; eventsSource: string };
export type PlanFields = { name: string; cans: number; perUnit: boolean; perLane: boolean; positions: string[]; characteristics: string[]; everyMinutes: number | null; intervalSource: string } & PlanDue;
export async function insertCheckPlan(tx: Tx, plantId: number, plan: PlanFields & { machineId: number; productId: number }): Promise<number> {
  return (await tx.checkPlan.create({ data: { plantId, ...plan }, select: NAMED })).id;
}
/** The plan, locked: two changes of one plan follow each other. */
export async function lockCheckPlan(tx: Tx, plantId: number, id: number) {
  await tx.$queryRaw`SELECT id FROM check_plan WHERE plant_id = ${plantId} AND id = ${id} FOR UPDATE`;
  return findCheckPlan(tx, plantId, id);
}
export const findCheckPlan = (tx: Tx, plantId: number, id: number) => tx.checkPlan.findUnique({ where: { plantId_id: { plantId, id } } });
export const updateCheckPlan = (tx: Tx, plantId: number, id: number, change: PlanFields & { retiredAt: Date | null; revision: number }) => tx.checkPlan.update({ where: { plantId_id: { plantId, id } }, data: change });
