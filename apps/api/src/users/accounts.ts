import type { Role } from '#contract/roles';
import { Problem } from '#contract/problem';
import type { AuditorScopeView, UserView } from '#contract/users';
import { type Actor, record } from '../platform/audit.js';
import type { Tx, Work } from '../platform/work.js';
import { endSessions, findPasswordHash, insertAccount, isCustomer, lockAccounts, putScope, updateAccount } from './accounts.store.js';
import { checkPassword, hashPassword } from './passwords.js';
import { confirmPassword } from './confirm-password.js';

type Acting = Actor & { userId: number };
/** Else the mark of a demo password would go while the password stays. */
const ANOTHER = 'another password than the present one';

/** Needs the present password, counted like a log-in; the other sessions of the person end. */
export async function changeOwnPassword(work: Work, actor: Acting, given: { oldPassword: string; newPassword: string; login: string; from: string; keepSession: string }, now: Date): Promise<void> {
  await confirmPassword(work, { plantId: actor.plantId, userId: actor.userId, login: given.login, from: given.from }, given.oldPassword, now);
  if (given.newPassword === given.oldPassword) throw new Problem('invalid-input', undefined, [{ field: 'newPassword', expected: ANOTHER }]);
  const passwordHash = await hashPassword(given.newPassword);
  await work.run(async (tx) => {
    await updateAccount(tx, actor.plantId, actor.userId, { passwordHash, demoPassword: false });
    await endSessions(tx, actor.plantId, actor.userId, given.keepSession);
    await record(tx, actor, 'password.changed', `user ${actor.userId}`);
  });
}

export async function makeAccount(work: Work, actor: Acting, given: { login: string; name: string; role: Role; password: string; scope?: AuditorScopeView }): Promise<UserView> {
  const { password, scope, ...account } = given;
  const passwordHash = await hashPassword(password);
  return work.run(async (tx) => {
    const accounts = await lockAccounts(tx, actor.plantId);
    if (accounts.some((known) => known.login === account.login)) throw new Problem('already-there', undefined, [{ field: 'login', expected: `a login that nobody has: "${account.login}" is taken` }]);
    const made = await insertAccount(tx, actor.plantId, { ...account, passwordHash });
    const kept = await keepScope(tx, actor.plantId, made.id, given.role, scope, null);
    await record(tx, actor, 'user.made', `user ${made.id}`, { after: { ...account, ...(kept ? { scope: kept } : {}) } });
    return { ...made, scope: kept };
  });
}

/** One administrator who is not disabled must remain. Disabling and a new password end the person's sessions at once. */
export async function changeAccount(work: Work, actor: Acting, id: number, given: { name: string; role: Role; disabled: boolean; password?: string; scope?: AuditorScopeView }, now: Date): Promise<UserView> {
  const passwordHash = given.password === undefined ? undefined : await hashPassword(given.password);
  const present = await findPasswordHash(work.read, actor.plantId, id);
  const unchanged = given.password !== undefined && present?.startsWith('$argon2') === true && (await checkPassword(present, given.password));
  return work.run(async (tx) => {
    const accounts = await lockAccounts(tx, actor.plantId);
    const before = accounts.find((account) => account.id === id);
    if (!before) throw new Problem('not-found', `There is no account ${id}.`);
    if (unchanged) throw new Problem('invalid-input', undefined, [{ field: 'password', expected: ANOTHER }]);
    const staysAdministrator = given.role === 'administrator' && !given.disabled;
    if (!staysAdministrator && !accounts.some((account) => account.id !== id && account.role === 'administrator' && !account.disabled)) throw new Problem('wrong-state', 'This is the last administrator: make another one first.');
    const scope = await keepScope(tx, actor.plantId, id, given.role, given.scope, before.scope);
    const after = await updateAccount(tx, actor.plantId, id, {
      name: given.name, role: given.role, ...(given.disabled === before.disabled ? {} : { disabledAt: given.disabled ? now : null }), ...(passwordHash ? { passwordHash, demoPassword: false } : {}),
    });
    if (given.disabled || passwordHash || given.role !== before.role) await endSessions(tx, actor.plantId, id);
    const seen = ({ name, role, disabled, scope: seenScope }: UserView) => ({ name, role, disabled, ...(seenScope ? { scope: seenScope } : {}) });
    await record(tx, actor, 'user.changed', `user ${id}`, { before: seen(before), after: { ...seen({ ...after, scope }), newPassword: passwordHash !== undefined } });
    return { ...after, scope };
  });
}

/** An auditor keeps the scope that is given, or the present one; every other role loses it. */
async function keepScope(tx: Tx, plantId: number, userId: number, role: Role, given: AuditorScopeView | undefined, present: AuditorScopeView | null): Promise<AuditorScopeView | null> {
  if (role !== 'auditor') {
    if (given) throw new Problem('invalid-input', undefined, [{ field: 'scope', expected: `nothing for the role ${role}: only an auditor is limited to a customer` }]);
    await putScope(tx, plantId, userId, null);
    return null;
  }
  if (!given) return present;
  if (!(await isCustomer(tx, plantId, given.customer))) throw new Problem('invalid-input', undefined, [{ field: 'scope.customer', expected: 'the customer of a product, written as the product has it' }]);
  await putScope(tx, plantId, userId, given);
  return given;
}
