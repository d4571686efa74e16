import { type FeedToken, feedScope, type NewFeedToken } from '#contract/feeds';
import type { Feed } from '../platform/endpoint.js';
import { hashToken } from '../platform/token.js';
import type { Tx } from '../platform/work.js';

const WINDOW_MS = 60_000;

type Row = {
  id: number; name: string; hint: string; scopes: string[]; machines: string[]; perMinute: number; expiresAt: Date; createdAt: Date; createdBy: string; lastUsedAt: Date | null;
  revokedAt: Date | null; revokedBy: string | null; revokeReason: string | null;
};

/** Newest first; `only` answers that one. */
export async function listFeedTokenViews(tx: Tx, plantId: number, now: Date, only: number | null = null): Promise<FeedToken[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT f.id, f.name, f.hint, f.scopes, ARRAY(SELECT m.code FROM machine m WHERE m.plant_id = f.plant_id AND m.id = ANY(f.machine_ids) ORDER BY m.code) AS machines, f.per_minute AS "perMinute",
      f.expires_at AS "expiresAt", f.created_at AS "createdAt", maker.name AS "createdBy", f.last_used_at AS "lastUsedAt", f.revoked_at AS "revokedAt", revoker.name AS "revokedBy", f.revoke_reason AS "revokeReason"
    FROM feed_token f JOIN "user" maker ON maker.plant_id = f.plant_id AND maker.id = f.created_by LEFT JOIN "user" revoker ON revoker.plant_id = f.plant_id AND revoker.id = f.revoked_by
    WHERE f.plant_id = ${plantId} AND (${only}::int IS NULL OR f.id = ${only}) ORDER BY f.id DESC LIMIT 500`;
  return rows.map((row) => ({
    ...row, scopes: row.scopes.map((scope) => feedScope.parse(scope)), state: row.revokedAt ? 'revoked' : row.expiresAt <= now ? 'expired' : 'active',
    expiresAt: row.expiresAt.toISOString(), createdAt: row.createdAt.toISOString(), lastUsedAt: row.lastUsedAt?.toISOString() ?? null, revokedAt: row.revokedAt?.toISOString() ?? null,
  }));
}

export async function insertFeedToken(tx: Tx, plantId: number, createdBy: number, given: NewFeedToken, token: { hash: string; hint: string }): Promise<number> {
  return (await tx.feedToken.create({ data: { plantId, createdBy, ...given, tokenHash: token.hash, hint: token.hint }, select: { id: true } })).id;
}

/** False when it is revoked already, or not there. */
export async function markRevoked(tx: Tx, plantId: number, id: number, by: { userId: number; at: Date; reason: string }): Promise<boolean> {
  return (await tx.feedToken.updateMany({ where: { plantId, id, revokedAt: null }, data: { revokedAt: by.at, revokedBy: by.userId, revokeReason: by.reason } })).count > 0;
}

export async function knownMachines(tx: Tx, plantId: number, ids: readonly number[]): Promise<Set<number>> {
  return new Set((await tx.machine.findMany({ where: { plantId, id: { in: [...ids] } }, select: { id: true } })).map((row) => row.id));
}

/**
 * The feed of a token that is neither revoked nor expired. The same statement counts the request: in the database, because
 * several processes share the limit and the last use is written anyway. `waitMs`: over the limit, until the minute ends.
 */
export async function takeFeedRequest(tx: Tx, token: string, now: Date): Promise<{ feed: Feed; waitMs: number } | null> {
  const before = new Date(now.getTime() - WINDOW_MS);
  const [row] = await tx.$queryRaw<{ plant_id: number; id: number; name: string; scopes: string[]; machine_ids: number[]; per_minute: number; window_at: Date; window_used: number; time_zone: string }[]>`
    UPDATE feed_token f SET last_used_at = ${now},
      window_at = CASE WHEN f.window_at > ${before} THEN f.window_at ELSE ${now} END, window_used = CASE WHEN f.window_at > ${before} THEN least(f.window_used + 1, 1000000) ELSE 1 END
    FROM plant p WHERE p.id = f.plant_id AND f.token_hash = ${hashToken(token)} AND f.revoked_at IS NULL AND f.expires_at > ${now}
    RETURNING f.plant_id, f.id, f.name, f.scopes, f.machine_ids, f.per_minute, f.window_at, f.window_used, p.time_zone`;
  if (!row) return null;
  const waitMs = row.window_used > row.per_minute ? Math.max(1, row.window_at.getTime() + WINDOW_MS - now.getTime()) : 0;
  return { waitMs, feed: { plantId: row.plant_id, tokenId: row.id, name: row.name, scopes: row.scopes.map((scope) => feedScope.parse(scope)), machineIds: row.machine_ids, timeZone: row.time_zone } };
}
