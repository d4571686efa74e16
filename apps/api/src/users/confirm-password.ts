import { Problem } from '#contract/problem';
import type { Work } from '../platform/work.js';
import { findPasswordHash } from './accounts.store.js';
import { checkPassword } from './passwords.js';
import { FAILURES_ALLOWED, failuresSince } from './sign-in.js';
import { countFailures, insertFailure } from './users.store.js';

/** The signed-in person proves anew who they are. Failures are counted like failed log-ins. */
export async function confirmPassword(work: Work, person: { plantId: number; userId: number; login: string; from: string }, password: string, now: Date): Promise<void> {
  if ((await countFailures(work.read, person.login, person.from, failuresSince(now))) >= FAILURES_ALLOWED) throw new Problem('too-many-attempts');
  const present = await findPasswordHash(work.read, person.plantId, person.userId);
  if (present !== null && (await checkPassword(present, password))) return;
  await work.run((tx) => insertFailure(tx, person.login, person.from, now));
  throw new Problem('wrong-credentials', 'The present password is another one.');
}
