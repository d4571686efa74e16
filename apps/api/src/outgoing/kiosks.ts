import { Problem } from '#contract/problem';
import type { Kiosk } from '#contract/wall';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { hashToken, makeToken } from '../platform/token.js';
import type { Work } from '../platform/work.js';
import { insertKiosk, kioskView, markRevoked } from './kiosks.store.js';

type Acting = Actor & { userId: number };

/** The token is answered once and stored as its hash. */
export async function makeKiosk(work: Work, actor: Acting, given: { name: string; expiresAt: string | null }, now: Date): Promise<{ kiosk: Kiosk; token: string }> {
  const expiresAt = given.expiresAt === null ? null : new Date(given.expiresAt);
  if (expiresAt && expiresAt <= now) throw new Problem('invalid-input', undefined, [{ field: 'expiresAt', expected: 'a moment that is still to come, or none' }]);
  const token = makeToken();
  return work.run(async (tx) => {
    const row = await insertKiosk(tx, actor.plantId, { name: given.name, tokenHash: hashToken(token), expiresAt, madeBy: actor.userId, madeAt: now });
    await record(tx, actor, 'kiosk.made', `kiosk ${row.id}`, { after: { name: row.name, expiresAt } });
    await announce(tx, actor.plantId, [{ kind: 'kiosk.changed', payload: { kioskId: row.id } }]);
    return { kiosk: kioskView(row, now), token };
  });
}

export async function endKiosk(work: Work, actor: Acting, id: number, now: Date): Promise<Kiosk> {
  return work.run(async (tx) => {
    const row = await markRevoked(tx, actor.plantId, id, now);
    if (row === null) throw new Problem('not-found', `There is no wall screen ${id}.`);
    if (row === false) throw new Problem('wrong-state', 'This token was revoked before.');
    await record(tx, actor, 'kiosk.revoked', `kiosk ${id}`, { before: { name: row.name } });
    await announce(tx, actor.plantId, [{ kind: 'kiosk.changed', payload: { kioskId: id } }]);
    return kioskView(row, now);
  });
}
