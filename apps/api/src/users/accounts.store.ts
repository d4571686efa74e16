import type { AuditorScopeView, UserView } from '#contract/users';
import type { Tx } from '../platform/work.js';
import { isRole } from './passwords.js';

type Row = { id: number; login: string; name: string; role: string; disabledAt: Date | null; demoPassword: boolean; createdAt: Date; auditorScope: Scope | null };
type Scope = { customer: string; fromAt: Date; untilAt: Date; expiresAt: Date };
const SELECT = { id: true, login: true, name: true, role: true, disabledAt: true, demoPassword: true, createdAt: true, auditorScope: { select: { customer: true, fromAt: true, untilAt: true, expiresAt: true } } } as const;

function toView(row: Row): UserView {
  const { auditorScope: scope } = row;
  return {
    id: row.id, login: row.login, name: row.name, role: isRole(row.role) ? row.role : 'auditor', disabled: row.disabledAt !== null, demoPassword: row.demoPassword, createdAt: row.createdAt.toISOString(),
    scope: scope && { customer: scope.customer, from: scope.fromAt.toISOString(), until: scope.untilAt.toISOString(), expiresAt: scope.expiresAt.toISOString() } };
}

export async function listAccounts(tx: Tx, plantId: number): Promise<UserView[]> {
  return (await tx.user.findMany({ where: { plantId }, select: SELECT, orderBy: { login: 'asc' } })).map(toView);
}

/** All accounts, locked until the transaction ends, so that two administrators cannot disable each other at once. What people enter meanwhile is stored beside it. */
export async function lockAccounts(tx: Tx, plantId: number): Promise<UserView[]> {
  await tx.$queryRaw`SELECT id FROM "user" WHERE plant_id = ${plantId} ORDER BY id FOR NO KEY UPDATE`;
  return listAccounts(tx, plantId);
}

export async function insertAccount(tx: Tx, plantId: number, account: { login: string; name: string; role: string; passwordHash: string }): Promise<UserView> {
  return toView(await tx.user.create({ data: { plantId, ...account }, select: SELECT }));
}

export async function updateAccount(tx: Tx, plantId: number, id: number, change: { name?: string; role?: string; disabledAt?: Date | null; passwordHash?: string; demoPassword?: boolean }): Promise<UserView> {
  return toView(await tx.user.update({ where: { plantId_id: { plantId, id } }, data: change, select: SELECT }));
}

export async function findPasswordHash(tx: Tx, plantId: number, id: number): Promise<string | null> {
  return (await tx.user.findUnique({ where: { plantId_id: { plantId, id } }, select: { passwordHash: true } }))?.passwordHash ?? null;
}

/** Sets what an auditor's account may see, or takes it away. */
export async function putScope(tx: Tx, plantId: number, userId: number, scope: AuditorScopeView | null): Promise<void> {
  if (scope === null) { await tx.auditorScope.deleteMany({ where: { plantId, userId } }); return; }
  const values = { customer: scope.customer, fromAt: new Date(scope.from), untilAt: new Date(scope.until), expiresAt: new Date(scope.expiresAt) };
  await tx.auditorScope.upsert({ where: { plantId_userId: { plantId, userId } }, create: { plantId, userId, ...values }, update: values });
}

export async function isCustomer(tx: Tx, plantId: number, customer: string): Promise<boolean> {
  return (await tx.product.count({ where: { plantId, customer } })) > 0;
}

/** Ends the sessions of a person, except one. */
export async function endSessions(tx: Tx, plantId: number, userId: number, except?: string): Promise<void> {
  await tx.session.deleteMany({ where: { plantId, userId, ...(except === undefined ? {} : { NOT: { tokenHash: except } }) } });
}

/** People whose password did not come along in an import. */
export const listWithoutPassword = (tx: Tx) => tx.user.findMany({ where: { passwordHash: '' }, select: { plantId: true, id: true, login: true, role: true, disabledAt: true } });
