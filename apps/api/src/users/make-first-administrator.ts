import { Problem } from '#contract/problem';
import { record } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { hashPassword } from './passwords.js';
import { findPlant, insertSession, insertUser } from './users.store.js';

/** Makes the administrator of a plant that `makePlant` inserts; refused once there is a plant. */
export async function makeFirstAdministrator(
  work: Work, given: { login: string; name: string; password: string },
  makePlant: (tx: Parameters<Parameters<Work['run']>[0]>[0]) => Promise<number>, now: Date,
): Promise<{ token: string; expiresAt: Date }> {
  const passwordHash = await hashPassword(given.password);
  return work.run(async (tx) => {
    await tx.$executeRaw`LOCK TABLE plant IN SHARE ROW EXCLUSIVE MODE`;
    if (await findPlant(tx)) throw new Problem('first-run-done');
    const plantId = await makePlant(tx);
    const userId = await insertUser(tx, plantId, { login: given.login, name: given.name, role: 'administrator', passwordHash });
    await record(tx, { plantId, userId, name: given.name }, 'plant.made', `plant ${plantId}`, { after: { administrator: given.login } });
    return insertSession(tx, plantId, userId, now);
  });
}
