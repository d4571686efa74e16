import { announce } from '../../apps/api/src/platform/outbox.js';
import type { TestDatabase } from '../db/database.js';
import type { TestPlant } from './plant.js';

export async function makeStream({ work }: TestDatabase, { plantId, characteristics, productId, machines }: TestPlant, code: keyof TestPlant['characteristics']): Promise<number> {
  const machineId = code.startsWith('weld') ? machines.bodyMaker : machines.seamer;
  return (await work.client.stream.create({ data: { plantId, characteristicId: characteristics[code], productId, machineId, chartKind: 'i-mr', basis: 'can', rules: ['1'] } })).id;
}

/** A signal as the judging step leaves it: the row, and its message in the same transaction. */
export function raiseSignal({ work }: TestDatabase, plantId: number, streamId: number, at: Date): Promise<number> {
  return work.run(async (tx) => {
    const { id } = await tx.signal.create({ data: { plantId, streamId, chart: 'mean', rule: 'beyond-limits', side: 'below', firedAt: at, firstAt: at, lastAt: at, raisedAt: at, seen: { limits: null, points: [] } } });
    await announce(tx, plantId, [{ kind: 'signal.raised', payload: { signalId: id } }]);
    return id;
  });
}
