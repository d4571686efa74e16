import type { Tx } from '../platform/work.js';

export async function saveAddress(tx: Tx, plantId: number, userId: number, tokenHash: string, now: Date): Promise<void> {
  await tx.calendarAddress.upsert({ where: { plantId_userId: { plantId, userId } }, create: { plantId, userId, tokenHash, madeAt: now }, update: { tokenHash, madeAt: now } });
}
export async function deleteAddress(tx: Tx, plantId: number, userId: number): Promise<void> {
  await tx.calendarAddress.deleteMany({ where: { plantId, userId } });
}
export async function addressSince(tx: Tx, plantId: number, userId: number): Promise<Date | null> {
  return (await tx.calendarAddress.findUnique({ where: { plantId_userId: { plantId, userId } } }))?.madeAt ?? null;
}
/** The plant whose due checks the address shows; null when it was ended or its person disabled. */
export async function findCalendarPlant(tx: Tx, tokenHash: string): Promise<{ plantId: number; plant: string } | null> {
  const rows = await tx.$queryRaw<{ plantId: number; plant: string }[]>`
    SELECT a.plant_id AS "plantId", p.name AS plant FROM calendar_address a JOIN plant p ON p.id = a.plant_id JOIN "user" u ON u.plant_id = a.plant_id AND u.id = a.user_id
    WHERE a.token_hash = ${tokenHash} AND u.disabled_at IS NULL AND u.role <> 'auditor'`;
  return rows[0] ?? null;
}
