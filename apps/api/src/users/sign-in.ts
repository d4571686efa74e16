import { Problem } from '#contract/problem';
import { record } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { checkNothing, checkPassword } from './passwords.js';
import { countFailures, findUserByLogin, insertFailure, insertSession } from './users.store.js';

const WINDOW_MINUTES = 15;
export const FAILURES_ALLOWED = 10;

/** Failures before this moment are forgotten. */
export const failuresSince = (now: Date): Date => new Date(now.getTime() - WINDOW_MINUTES * 60_000);

/** Checks login and password and opens a session. Failures are counted per login and per address, in the database, so that a restart or a second process forgets nothing. */
export async function signIn(work: Work, given: { login: string; password: string; from: string; agent?: string }, now: Date): Promise<{ token: string; expiresAt: Date }> {
  const login = given.login.trim().toLowerCase();
  const since = failuresSince(now);
  if ((await countFailures(work.read, login, given.from, since)) >= FAILURES_ALLOWED) {
    throw new Problem('too-many-attempts', `After ${FAILURES_ALLOWED} failures, wait ${WINDOW_MINUTES} minutes.`);
  }
  const user = await findUserByLogin(work.read, login);
  const right = user ? await checkPassword(user.passwordHash, given.password) : await checkNothing(given.password);
  if (!user || !right) {
    await work.run((tx) => insertFailure(tx, login, given.from, now));
    throw new Problem('wrong-credentials');
  }
  if (user.auditorScope && user.role === 'auditor' && user.auditorScope.expiresAt <= now) throw new Problem('not-allowed', `This account expired on ${user.auditorScope.expiresAt.toISOString().slice(0, 10)}: an administrator can set another date under Set-up, People.`);
  return work.run(async (tx) => {
    await record(tx, { plantId: user.plantId, userId: user.id, name: user.name }, 'session.opened', `user ${user.id}`);
    return insertSession(tx, user.plantId, user.id, now, { address: given.from, agent: (given.agent ?? '').slice(0, 200) });
  });
}
