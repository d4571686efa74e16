import type { Tx } from '../platform/work.js';

const NAMED = { id: true } as const;

export async function insertLine(tx: Tx, plantId: number, line: { code: string; name: string; lanes: readonly { code: string; name: string }[] }): Promise<number> {
  const position = (await tx.line.count({ where: { plantId } })) + 1;
  const { id } = await tx.line.create({ data: { plantId, code: line.code, name: line.name, position }, select: NAMED });
  await insertLanes(tx, plantId, id, line.lanes);
  return id;
}

/** Adds lanes behind those that the line has. */
export async function insertLanes(tx: Tx, plantId: number, lineId: number, lanes: readonly { code: string; name: string }[]): Promise<void> {
  const present = await tx.lane.count({ where: { plantId, lineId } });
  for (const [index, lane] of lanes.entries()) await tx.lane.create({ data: { plantId, lineId, ...lane, position: present + index + 1 } });
}

export const findLine = (tx: Tx, plantId: number, id: number) => tx.line.findUnique({ where: { plantId_id: { plantId, id } } });
export const updateLine = (tx: Tx, plantId: number, id: number, change: { name: string }) => tx.line.update({ where: { plantId_id: { plantId, id } }, data: change });

export const listSteps = (tx: Tx, plantId: number, lineId: number) => tx.step.findMany({ where: { plantId, lineId }, orderBy: { position: 'asc' } });
export const findStep = (tx: Tx, plantId: number, id: number) => tx.step.findUnique({ where: { plantId_id: { plantId, id } } });

export async function insertStep(tx: Tx, plantId: number, lineId: number, kind: string): Promise<number> {
  const last = await tx.step.aggregate({ where: { plantId, lineId }, _max: { position: true } });
  return (await tx.step.create({ data: { plantId, lineId, kind, position: (last._max.position ?? 0) + 1 }, select: NAMED })).id;
}

export const countMachines = (tx: Tx, plantId: number, stepId: number) => tx.machine.count({ where: { plantId, stepId } });
export const updateStep = (tx: Tx, plantId: number, id: number, change: { kind: string }) => tx.step.update({ where: { plantId_id: { plantId, id } }, data: change });

/** Gives the steps of a line the positions 1, 2, 3 … in this order. Through negative numbers, since a position is taken only once. */
export async function orderSteps(tx: Tx, plantId: number, ids: readonly number[]): Promise<void> {
  await tx.$executeRaw`UPDATE step s SET position = -o.place FROM unnest(${[...ids]}::int[]) WITH ORDINALITY AS o(id, place) WHERE s.plant_id = ${plantId} AND s.id = o.id`;
  await tx.$executeRaw`UPDATE step SET position = -position WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[])`;
}

export async function insertMachine(tx: Tx, plantId: number, machine: { stepId: number; code: string; name: string }): Promise<number> {
  return (await tx.machine.create({ data: { plantId, ...machine }, select: NAMED })).id;
}

export const findMachine = (tx: Tx, plantId: number, id: number) => tx.machine.findUnique({ where: { plantId_id: { plantId, id } } });
export const updateMachine = (tx: Tx, plantId: number, id: number, change: { name: string; retiredAt: Date | null }) => tx.machine.update({ where: { plantId_id: { plantId, id } }, data: change });

/** Adds units behind those that the machine has. */
export async function insertUnits(tx: Tx, plantId: number, machineId: number, codes: readonly string[]): Promise<void> {
  const present = await tx.unit.count({ where: { plantId, machineId } });
  for (const [index, code] of codes.entries()) await tx.unit.create({ data: { plantId, machineId, code, position: present + index + 1 } });
}

type ProductFields = { name: string; customer: string; diameter: number; height: number; bodyPlate: number; endPlate: number; seamProfile: string; overlapFactor: number };
export async function insertProduct(tx: Tx, plantId: number, product: ProductFields & { code: string }): Promise<number> {
  return (await tx.product.create({ data: { plantId, ...product }, select: NAMED })).id;
}
export const findProduct = (tx: Tx, plantId: number, id: number) => tx.product.findUnique({ where: { plantId_id: { plantId, id } } });
export const updateProduct = (tx: Tx, plantId: number, id: number, change: ProductFields & { retiredAt: Date | null }) => tx.product.update({ where: { plantId_id: { plantId, id } }, data: change });
