import { createHash } from 'node:crypto';
import type { CheckPhoto } from '#contract/check-photos';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

/** Holds the check until the end of the transaction: its photos and its seal are changed by one act at a time. */
export async function lockForPhotos(tx: Tx, plantId: number, checkId: number): Promise<{ cans: number; voided: boolean }> {
  const [row] = await tx.$queryRaw<{ cans: number; voided: boolean }[]>`SELECT cardinality(can_numbers) AS cans, voided_at IS NOT NULL AS voided FROM "check" WHERE plant_id = ${plantId} AND id = ${checkId} FOR UPDATE`;
  if (!row) throw new Problem('not-found', `There is no check ${checkId}.`);
  return row;
}

export const countPhotos = (tx: Tx, plantId: number, checkId: number): Promise<number> => tx.checkPhoto.count({ where: { plantId, checkId } });

export type NewCheckPhoto = { checkId: number; can: number | null; fileName: string; contentType: string; content: Buffer; addedBy: number; addedAt: Date };

/** Stores a photo, unless the page of its check shows the same picture already: then null. */
export async function insertCheckPhoto(tx: Tx, plantId: number, photo: NewCheckPhoto): Promise<{ id: number; sha256: string } | null> {
  const sha256 = createHash('sha256').update(photo.content).digest('hex');
  const known = await tx.checkPhoto.findFirst({ where: { plantId, checkId: photo.checkId, sha256, removedAt: null }, select: { id: true } });
  if (known) return null;
  const { id } = await tx.checkPhoto.create({ data: { ...photo, plantId, sha256, bytes: photo.content.length, content: new Uint8Array(photo.content) }, select: { id: true } });
  return { id, sha256 };
}

export async function listCheckPhotos(tx: Tx, plantId: number, checkId: number): Promise<CheckPhoto[]> {
  const rows = await tx.$queryRaw<(Omit<CheckPhoto, 'addedAt'> & { addedAt: Date })[]>`
    SELECT f.id, f.can, f.file_name AS "fileName", f.content_type AS "contentType", f.bytes, f.sha256, coalesce(u.name, '') AS "addedBy", f.added_at AS "addedAt"
    FROM check_photo f LEFT JOIN "user" u ON u.plant_id = f.plant_id AND u.id = f.added_by WHERE f.plant_id = ${plantId} AND f.check_id = ${checkId} AND f.removed_at IS NULL ORDER BY f.can NULLS LAST, f.id`;
  return rows.map((row) => ({ ...row, addedAt: row.addedAt.toISOString() }));
}

export async function findCheckPhoto(tx: Tx, plantId: number, checkId: number, id: number): Promise<{ contentType: string; content: Uint8Array; sha256: string }> {
  const row = await tx.checkPhoto.findFirst({ where: { plantId, checkId, id }, select: { contentType: true, content: true, sha256: true } });
  if (!row) throw new Problem('not-found', `There is no photo ${id} of check ${checkId}.`);
  return row;
}

/** Takes a photo off the page; its row and its picture stay. Answers its name and hash. */
export async function markCheckPhotoRemoved(tx: Tx, plantId: number, checkId: number, id: number, removed: { removedBy: number; removedAt: Date; removedReason: string }): Promise<{ fileName: string; sha256: string }> {
  const photo = await tx.checkPhoto.findFirst({ where: { plantId, checkId, id, removedAt: null }, select: { fileName: true, sha256: true } });
  if (!photo) throw new Problem('not-found', `There is no photo ${id} of check ${checkId}.`);
  await tx.checkPhoto.update({ where: { plantId_id: { plantId, id } }, data: removed });
  return photo;
}

/** The hash of each picture as its bytes are now, not as its row says: what a seal stands for. In the order of their ids. */
export async function hashPhotos(tx: Tx, plantId: number, checkIds: readonly number[]): Promise<{ id: number; checkId: number; sha256: string }[]> {
  return tx.$queryRaw<{ id: number; checkId: number; sha256: string }[]>`
    SELECT id, check_id AS "checkId", encode(sha256(content), 'hex') AS sha256 FROM check_photo WHERE plant_id = ${plantId} AND check_id = ANY(${[...checkIds]}::int[]) ORDER BY id`;
}
