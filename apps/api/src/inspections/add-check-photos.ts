import { MOST_PHOTOS } from '#contract/check-photos';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { photoType } from '../platform/photo-type.js';
import type { UploadedFile } from '../platform/read-uploads.js';
import type { Tx } from '../platform/work.js';
import { countPhotos, insertCheckPhoto, lockForPhotos, markCheckPhotoRemoved } from './check-photos.store.js';
import { sealAnew } from './check-seals.store.js';

type Person = Actor & { userId: number };

/** Stores photos of a check, all or none, byte by byte, and seals the check anew with them. One that it has already changes nothing. */
export async function addCheckPhotos(tx: Tx, actor: Person, checkId: number, can: number | null, files: readonly UploadedFile[], now: Date): Promise<void> {
  const check = await lockForPhotos(tx, actor.plantId, checkId);
  if (check.voided) throw new Problem('wrong-state', `Check ${checkId} was taken back with its import: it takes no photos.`);
  if (files.length === 0) throw new Problem('invalid-input', undefined, [{ field: 'photo', expected: 'at least one photo' }]);
  if (can !== null && can >= check.cans) throw new Problem('invalid-input', undefined, [{ field: 'can', expected: `an index from 0 to ${check.cans - 1}: the check has ${check.cans} cans` }]);
  const added = [];
  for (const { fileName, content } of files) {
    const contentType = photoType(content);
    if (contentType === null) throw new Problem('wrong-file-type', `“${fileName}” is not a JPEG, PNG or WebP picture. Save it as one of these and add it again.`, [{ field: 'photo', expected: 'JPEG, PNG or WebP' }]);
    const stored = await insertCheckPhoto(tx, actor.plantId, { checkId, can, fileName, contentType, content, addedBy: actor.userId, addedAt: now });
    if (stored) added.push({ photoId: stored.id, can, fileName, contentType, bytes: content.length, sha256: stored.sha256 });
  }
  if (added.length === 0) return;
  if ((await countPhotos(tx, actor.plantId, checkId)) > MOST_PHOTOS) throw new Problem('invalid-input', undefined, [{ field: 'photo', expected: `at most ${MOST_PHOTOS} photos of one check` }]);
  const seals = await sealAnew(tx, actor.plantId, [checkId], { photoIds: added.map(({ photoId }) => photoId) });
  await record(tx, actor, 'check.photo-added', `check ${checkId}`, { before: { seals: seals.before }, after: { photos: added, seals: seals.after } });
  await announce(tx, actor.plantId, [{ kind: 'check.photo-added', payload: { checkId, photos: added.length } }]);
}

/** The picture stays, and with it the seal. */
export async function removeCheckPhoto(tx: Tx, actor: Person, checkId: number, photoId: number, reason: string, now: Date): Promise<void> {
  await lockForPhotos(tx, actor.plantId, checkId);
  const { fileName, sha256 } = await markCheckPhotoRemoved(tx, actor.plantId, checkId, photoId, { removedBy: actor.userId, removedAt: now, removedReason: reason });
  await record(tx, actor, 'check.photo-removed', `check ${checkId}`, { before: { photoId, fileName, sha256 }, after: { reason } });
  await announce(tx, actor.plantId, [{ kind: 'check.photo-removed', payload: { checkId, photoId } }]);
}
