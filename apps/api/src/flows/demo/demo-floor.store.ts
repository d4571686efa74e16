import { seedMonitor } from '../../../../../seed/monitor.js';
import { newFeedToken } from '../../feeds/make-feed-token.js';
import type { Tx } from '../../platform/work.js';
import type { DemoIds } from './demo-master.store.js';

const DAY = 86_400_000;

/** Two tokens that are over, so that the list shows what one looks like; nobody has ever seen their secrets. */
export async function insertDemoTokens(tx: Tx, ids: DemoIds, engineer: { id: number }, machineId: number, endsAt: Date): Promise<void> {
  const at = (days: number) => new Date(endsAt.getTime() - days * DAY);
  const token = () => {
    const { hash, hint } = newFeedToken();
    return { plantId: ids.plantId, createdBy: engineer.id, tokenHash: hash, hint, scopes: ['checks'], machineIds: [machineId], perMinute: 120 };
  };
  await tx.feedToken.createMany({ data: [
    { ...token(), name: 'Seam bench, old gauge', createdAt: at(80), expiresAt: at(-285), lastUsedAt: at(33), revokedAt: at(32), revokedBy: engineer.id, revokeReason: 'The gauge went to another plant.' },
    { ...token(), name: 'Seam bench, trial', createdAt: at(60), expiresAt: at(30), lastUsedAt: at(31) },
  ] });
}

/** The characteristic that the weld monitor measures; no check plan asks for it. */
export async function insertDemoMonitored(tx: Tx, plantId: number): Promise<number> {
  return (await tx.characteristic.create({ data: { plantId, ...seedMonitor.characteristic } })).id;
}

/** The stream of the monitor, once its first subgroup is there. */
export async function findDemoStream(tx: Tx, plantId: number, characteristicId: number): Promise<number | null> {
  return (await tx.stream.findFirst({ where: { plantId, characteristicId }, select: { id: true } }))?.id ?? null;
}
