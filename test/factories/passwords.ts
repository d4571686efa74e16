import { hashPassword } from '../../apps/api/src/users/passwords.js';
import type { TestDatabase } from '../db/database.js';
import type { TestPlant } from './plant.js';

export const PASSWORD = 'a long enough password';

/** Everybody of the plant gets PASSWORD; only where something is signed, because hashing is slow on purpose. */
export async function givePasswords({ work }: TestDatabase, { plantId }: TestPlant): Promise<void> {
  await work.client.user.updateMany({ where: { plantId }, data: { passwordHash: await hashPassword(PASSWORD) } });
}
