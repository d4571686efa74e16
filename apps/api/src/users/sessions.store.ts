import type { OpenSession } from '#contract/sessions';
import type { Tx } from '../platform/work.js';
import { DEFAULT_IDLE_MINUTES } from './users.store.js';

export async function findIdleMinutes(tx: Tx, plantId: number): Promise<number> {
  return (await tx.sessionRule.findUnique({ where: { plantId } }))?.idleMinutes ?? DEFAULT_IDLE_MINUTES;
}

export async function putIdleMinutes(tx: Tx, plantId: number, idleMinutes: number): Promise<void> {
  await tx.sessionRule.upsert({ where: { plantId }, create: { plantId, idleMinutes }, update: { idleMinutes } });
}

/** Locks, or unlocks as of now. */
export async function setLock(tx: Tx, plantId: number, tokenHash: string, locked: boolean, now: Date): Promise<void> {
  await tx.session.updateMany({ where: { plantId, tokenHash }, data: locked ? { lockedAt: now } : { lockedAt: null, activeAt: now } });
}

export async function listOpenSessions(tx: Tx, plantId: number, userId: number, here: string, idleMinutes: number, now: Date): Promise<OpenSession[]> {
  const rows = await tx.session.findMany({ where: { plantId, userId, expiresAt: { gt: now } }, orderBy: [{ activeAt: 'desc' }, { createdAt: 'desc' }], take: 100 });
  const idleBefore = now.getTime() - idleMinutes * 60_000;
  return rows.map(({ tokenHash, createdAt, activeAt, expiresAt, lockedAt, address, agent }) => ({
    id: tokenHash.slice(0, 16), createdAt: createdAt.toISOString(), activeAt: activeAt.toISOString(), expiresAt: expiresAt.toISOString(),
    address, agent, here: tokenHash === here, locked: lockedAt !== null || activeAt.getTime() < idleBefore,
  }));
}

/** Answers whether the person had such a session. */
export async function deleteOpenSession(tx: Tx, plantId: number, userId: number, id: string): Promise<boolean> {
  return (await tx.session.deleteMany({ where: { plantId, userId, tokenHash: { startsWith: id } } })).count > 0;
}
