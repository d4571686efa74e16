import type { Kiosk } from '#contract/wall';
import type { Wall } from '../platform/endpoint.js';
import type { Tx } from '../platform/work.js';

type Row = { id: number; name: string; madeAt: Date; expiresAt: Date | null; revokedAt: Date | null };

export function kioskView({ id, name, madeAt, expiresAt, revokedAt }: Row, now: Date): Kiosk {
  const state = revokedAt ? 'revoked' : expiresAt && expiresAt <= now ? 'expired' : 'active';
  return { id, name, madeAt: madeAt.toISOString(), expiresAt: expiresAt?.toISOString() ?? null, revokedAt: revokedAt?.toISOString() ?? null, state };
}

export async function listKioskRows(tx: Tx, plantId: number): Promise<Row[]> {
  return tx.kioskToken.findMany({ where: { plantId }, orderBy: { id: 'desc' } });
}

export async function insertKiosk(tx: Tx, plantId: number, made: { name: string; tokenHash: string; expiresAt: Date | null; madeBy: number; madeAt: Date }): Promise<Row> {
  return tx.kioskToken.create({ data: { plantId, ...made } });
}

/** Null where it is not there; false where it was revoked before. */
export async function markRevoked(tx: Tx, plantId: number, id: number, now: Date): Promise<Row | null | false> {
  const { count } = await tx.kioskToken.updateMany({ where: { plantId, id, revokedAt: null }, data: { revokedAt: now } });
  const row = await tx.kioskToken.findUnique({ where: { plantId_id: { plantId, id } } });
  return row && count === 0 ? false : row;
}

/** The wall of a token that is neither revoked nor expired. */
export async function findWall(tx: Tx, tokenHash: string, now: Date): Promise<Wall | null> {
  const rows = await tx.$queryRaw<Wall[]>`
    SELECT k.plant_id AS "plantId", k.name AS screen, p.name AS plant, p.time_zone AS "timeZone" FROM kiosk_token k JOIN plant p ON p.id = k.plant_id
    WHERE k.token_hash = ${tokenHash} AND k.revoked_at IS NULL AND (k.expires_at IS NULL OR k.expires_at > ${now})`;
  return rows[0] ?? null;
}
