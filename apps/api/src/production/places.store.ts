import type { Tx } from '../platform/work.js';

/** Codes and ids of the lines and machines of a plant; both are unique in it. */
export async function listPlaces(tx: Tx, plantId: number): Promise<{ lines: { id: number; code: string }[]; machines: { id: number; code: string; lineId: number }[] }> {
  const [lines, machines] = [
    await tx.line.findMany({ where: { plantId }, select: { id: true, code: true } }),
    await tx.$queryRaw<{ id: number; code: string; lineId: number }[]>`
      SELECT m.id, m.code, s.line_id AS "lineId" FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE m.plant_id = ${plantId}`,
  ];
  return { lines, machines };
}
