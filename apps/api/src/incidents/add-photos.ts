import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { photoType } from '../platform/photo-type.js';
import type { UploadedFile } from '../platform/read-uploads.js';
import type { Tx } from '../platform/work.js';
import { insertStep, lockIncident } from './incidents.store.js';
import { insertPhoto } from './photos.store.js';

/** Stores photos of an incident, all or none. Their kind is what their content says. */
export async function addPhotos(tx: Tx, actor: Actor & { userId: number }, incidentId: number, files: readonly UploadedFile[], now: Date): Promise<void> {
  await lockIncident(tx, actor.plantId, incidentId);
  if (files.length === 0) throw new Problem('invalid-input', undefined, [{ field: 'photo', expected: 'at least one photo' }]);
  for (const { fileName, content } of files) {
    const contentType = photoType(content);
    if (contentType === null) throw new Problem('wrong-file-type', `“${fileName}” is not a JPEG, PNG or WebP picture. Save it as one of these and add it again.`, [{ field: 'photo', expected: 'JPEG, PNG or WebP' }]);
    const { id, sha256 } = await insertPhoto(tx, actor.plantId, incidentId, actor.userId, { fileName, contentType, content });
    await insertStep(tx, actor, incidentId, 'photo-added', now, fileName);
    await record(tx, actor, 'incident.photo-added', `incident ${incidentId}`, { after: { photoId: id, fileName, contentType, bytes: content.length, sha256 } });
  }
}
