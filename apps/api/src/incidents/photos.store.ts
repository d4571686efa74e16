import { createHash } from 'node:crypto';
import { Problem } from '#contract/problem';
import type { AnswerOf } from '#contract/endpoint';
import type { addIncidentPhoto } from '#contract/incidents';
import type { Tx } from '../platform/work.js';

type PhotoView = AnswerOf<typeof addIncidentPhoto>['photos'][number];
export type NewPhoto = { fileName: string; contentType: string; content: Buffer };

export async function insertPhoto(tx: Tx, plantId: number, incidentId: number, addedBy: number, photo: NewPhoto): Promise<{ id: number; sha256: string }> {
  const sha256 = createHash('sha256').update(photo.content).digest('hex');
  const row = await tx.incidentPhoto.create({
    data: { plantId, incidentId, addedBy, sha256, fileName: photo.fileName, contentType: photo.contentType, bytes: photo.content.length, content: new Uint8Array(photo.content) }, select: { id: true },
  });
  return { id: row.id, sha256 };
}

export async function listPhotos(tx: Tx, plantId: number, incidentId: number): Promise<PhotoView[]> {
  const rows = await tx.$queryRaw<(Omit<PhotoView, 'addedAt'> & { addedAt: Date })[]>`
    SELECT f.id, f.file_name AS "fileName", f.content_type AS "contentType", f.bytes, coalesce(u.name, '') AS "addedBy", f.added_at AS "addedAt"
    FROM incident_photo f LEFT JOIN "user" u ON u.plant_id = f.plant_id AND u.id = f.added_by WHERE f.plant_id = ${plantId} AND f.incident_id = ${incidentId} AND f.removed_at IS NULL ORDER BY f.id`;
  return rows.map((row) => ({ ...row, addedAt: row.addedAt.toISOString() }));
}

export async function findPhoto(tx: Tx, plantId: number, incidentId: number, id: number): Promise<{ contentType: string; content: Uint8Array; sha256: string }> {
  const row = await tx.incidentPhoto.findFirst({ where: { plantId, incidentId, id }, select: { contentType: true, content: true, sha256: true } });
  if (!row) throw new Problem('not-found', `There is no photo ${id} of incident ${incidentId}.`);
  return row;
}

/** Takes a photo off the page; its row and its picture stay. Answers its name. */
export async function markPhotoRemoved(tx: Tx, plantId: number, incidentId: number, id: number, removed: { removedBy: number; removedAt: Date; removedReason: string }): Promise<string> {
  const photo = await tx.incidentPhoto.findFirst({ where: { plantId, incidentId, id, removedAt: null }, select: { fileName: true } });
  if (!photo) throw new Problem('not-found', `There is no photo ${id} of incident ${incidentId}.`);
  await tx.incidentPhoto.update({ where: { plantId_id: { plantId, id } }, data: removed });
  return photo.fileName;
}
