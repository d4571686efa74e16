import { makeToken } from '../platform/token.js';
import type { Work } from '../platform/work.js';
import { hashPassword } from './passwords.js';
import { listWithoutPassword, updateAccount } from './accounts.store.js';

/** After an import that brings no passwords: administrators get the one that `choose` answers, others one that nobody knows. True where there was anybody without one. */
export async function giveNewPasswords(work: Work, choose: (login: string) => string): Promise<boolean> {
  const people = await listWithoutPassword(work.read);
  const chosen = await Promise.all(people.map(async ({ plantId, id, login, role, disabledAt }) => {
    const password = role === 'administrator' && disabledAt === null ? choose(login) : makeToken();
    return { plantId, id, passwordHash: await hashPassword(password) };
  }));
  await work.run(async (tx) => { for (const { plantId, id, passwordHash } of chosen) await updateAccount(tx, plantId, id, { passwordHash, demoPassword: false }); });
  return people.length > 0;
}
