import type { Tx } from '../platform/work.js';

/** What a stream is of. @throws RangeError when the plant has no such stream */
export async function findStreamOf(tx: Tx, plantId: number, streamId: number): Promise<{ productId: number; machineId: number; characteristicId: number }> {
  const [row] = await tx.$queryRaw<{ productId: number; machineId: number; characteristicId: number }[]>`SELECT product_id AS "productId", machine_id AS "machineId", characteristic_id AS "characteristicId" FROM stream WHERE plant_id = ${plantId} AND id = ${streamId}`;
  if (!row) throw new RangeError(`findStreamOf: needs a stream of plant ${plantId}, ${streamId} given`);
  return row;
}
