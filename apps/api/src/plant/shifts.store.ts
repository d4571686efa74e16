import type { Shift } from '#canmaking/line/shifts';
import type { Tx } from '../platform/work.js';

export const listShiftRows = (tx: Tx, plantId: number): Promise<Shift[]> => tx.shift.findMany({ where: { plantId }, orderBy: [{ beginMinute: 'asc' }, { id: 'asc' }], select: { name: true, beginMinute: true, endMinute: true, days: true } });

export async function replaceShifts(tx: Tx, plantId: number, shifts: readonly Shift[]): Promise<void> {
  await tx.shift.deleteMany({ where: { plantId } });
  await tx.shift.createMany({ data: shifts.map(({ days, ...shift }) => ({ plantId, ...shift, days: [...days] })) });
}
