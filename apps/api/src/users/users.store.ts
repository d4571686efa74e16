import { randomBytes } from 'node:crypto';
import type { Role } from '#contract/roles';
import type { Session } from '../platform/endpoint.js';
import { hashToken, makeToken } from '../platform/token.js';
import type { Tx } from '../platform/work.js';
import { isRole } from './passwords.js';

const SESSION_HOURS = 12;
export const DEFAULT_IDLE_MINUTES = 15;
/** A write for every request would be one more than anybody needs. */
const TOUCH_SECONDS = 20;

type SessionRow = {
  plant_id: number; token_hash: string; csrf: string; user_id: number; login: string; name: string; role: string; time_zone: string;
  customer: string | null; from_at: Date | null; until_at: Date | null; locked: boolean;
};

/** The session of a token that has not expired and whose person is not disabled (an auditor's account: nor expired). One statement: it runs with every request. */
export async function findSession(tx: Tx, token: string, now: Date): Promise<Session | null> {
  const rows = await tx.$queryRaw<SessionRow[]>`
    /* planned once: session */ SELECT s.plant_id, s.token_hash, s.csrf, s.user_id, u.login, u.name, u.role, p.time_zone, a.customer, a.from_at, a.until_at,
      s.locked_at IS NOT NULL OR s.active_at < ${now}::timestamptz - make_interval(mins => coalesce(r.idle_minutes, ${DEFAULT_IDLE_MINUTES}::int)) AS locked
    FROM session s JOIN "user" u ON u.plant_id = s.plant_id AND u.id = s.user_id JOIN plant p ON p.id = s.plant_id
    LEFT JOIN auditor_scope a ON a.plant_id = u.plant_id AND a.user_id = u.id AND u.role = 'auditor' LEFT JOIN session_rule r ON r.plant_id = s.plant_id
    WHERE s.token_hash = ${hashToken(token)} AND s.expires_at > ${now} AND u.disabled_at IS NULL AND (a.expires_at IS NULL OR a.expires_at > ${now})`;
  const row = rows[0];
  if (!row || !isRole(row.role)) return null;
  const scope = row.customer !== null && row.from_at && row.until_at ? { customer: row.customer, from: row.from_at, until: row.until_at } : null;
  return { plantId: row.plant_id, tokenHash: row.token_hash, csrf: row.csrf, timeZone: row.time_zone, scope, locked: row.locked, person: { id: row.user_id, login: row.login, name: row.name, role: row.role } };
}

export async function touchSession(tx: Tx, session: Session, now: Date): Promise<void> {
  await tx.session.updateMany({ where: { plantId: session.plantId, tokenHash: session.tokenHash, lockedAt: null, activeAt: { lt: new Date(now.getTime() - TOUCH_SECONDS * 1000) } }, data: { activeAt: now } });
}

/** Makes a session and answers the token for the cookie; only its hash is stored. */
export async function insertSession(tx: Tx, plantId: number, userId: number, now: Date, where: { address?: string; agent?: string } = {}): Promise<{ token: string; expiresAt: Date }> {
  const token = makeToken();
  const expiresAt = new Date(now.getTime() + SESSION_HOURS * 3_600_000);
  await tx.session.create({ data: { plantId, tokenHash: hashToken(token), userId, csrf: randomBytes(24).toString('base64url'), expiresAt, createdAt: now, activeAt: now, ...where } });
  await tx.session.deleteMany({ where: { plantId, expiresAt: { lt: now } } });
  return { token, expiresAt };
}

export async function deleteSession(tx: Tx, plantId: number, tokenHash: string): Promise<void> {
  await tx.session.deleteMany({ where: { plantId, tokenHash } });
}

export function findUserByLogin(tx: Tx, login: string) {
  return tx.user.findFirst({ where: { login, disabledAt: null }, include: { auditorScope: true } });
}

export async function countFailures(tx: Tx, login: string, from: string, since: Date): Promise<number> {
  const [byLogin, byAddress] = await Promise.all([
    tx.loginFailure.count({ where: { login, at: { gt: since } } }),
    tx.loginFailure.count({ where: { from, at: { gt: since } } }),
  ]);
  return Math.max(byLogin, byAddress);
}

export async function insertFailure(tx: Tx, login: string, from: string, now: Date): Promise<void> {
  await tx.loginFailure.create({ data: { login: login.slice(0, 200), from, at: now } });
  await tx.loginFailure.deleteMany({ where: { at: { lt: new Date(now.getTime() - 86_400_000) } } });
}

export function findPlant(tx: Tx) {
  return tx.plant.findFirst({ orderBy: { id: 'asc' } });
}

export async function insertUser(tx: Tx, plantId: number, user: { login: string; name: string; role: string; passwordHash: string; demoPassword?: boolean }): Promise<number> {
  const row = await tx.user.create({ data: { plantId, ...user }, select: { id: true } });
  return row.id;
}

/** Accounts that still have the password that came with the demo plant. */
export async function listDemoAccounts(tx: Tx): Promise<{ login: string; role: Role }[]> {
  const rows = await tx.user.findMany({ where: { demoPassword: true, disabledAt: null }, select: { login: true, role: true }, orderBy: { id: 'asc' } });
  return rows.flatMap(({ login, role }) => (isRole(role) ? [{ login, role }] : []));
}

export async function listPlants(tx: Tx): Promise<{ id: number; name: string; timeZone: string }[]> {
  return tx.plant.findMany({ select: { id: true, name: true, timeZone: true }, orderBy: { id: 'asc' } });
}
export async function findPlantById(tx: Tx, id: number): Promise<{ id: number; name: string; timeZone: string } | null> {
  return tx.plant.findUnique({ where: { id }, select: { id: true, name: true, timeZone: true } });
}
