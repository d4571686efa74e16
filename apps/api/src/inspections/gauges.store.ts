import type { Tx } from '../platform/work.js';

export type GaugeFields = { name: string; unit: string; resolution: number; calibrationDue: Date | null };
export async function insertGauge(tx: Tx, plantId: number, gauge: GaugeFields & { code: string }): Promise<number> {
  return (await tx.gauge.create({ data: { plantId, ...gauge }, select: { id: true } })).id;
}
export const findGauge = (tx: Tx, plantId: number, id: number) => tx.gauge.findUnique({ where: { plantId_id: { plantId, id } } });
export const updateGauge = (tx: Tx, plantId: number, id: number, change: GaugeFields & { retiredAt: Date | null }) => tx.gauge.update({ where: { plantId_id: { plantId, id } }, data: change });
