import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { correctors, readers, recorders } from './roles.js';
import { id, idParams, idText, moment } from './shapes.js';

/** The most photos that one check can have, those taken off its page included. */
export const MOST_PHOTOS = 40;
export const PHOTO_BYTES = 10 * 1024 * 1024;

/** A picture of a section at a check, kept byte by byte as it was brought. `can`: index from 0 of the can it shows; null = of no one can. */
export const checkPhoto = z.object({ id, can: z.number().int().nullable(), fileName: z.string(), contentType: z.string(), bytes: z.number().int(), sha256: z.string(), addedBy: z.string(), addedAt: moment });
export type CheckPhoto = z.infer<typeof checkPhoto>;

const photos = z.object({ photos: z.array(checkPhoto) });

export const addCheckPhotos = endpoint({
  method: 'POST', path: '/api/checks/:id/photos', feature: 'inspections', access: recorders, status: 201,
  summary: 'Add photos of sections to a check', description: `Fields named "photo": JPEG, PNG or WebP, recognised by content, 10 MB each, at most ${MOST_PHOTOS} a check. They are kept as they are, with what the camera wrote into them. The check is sealed anew with them. A picture that the check has already is not stored twice, so a request whose answer was lost can be sent again.`,
  params: idParams, query: z.object({ can: z.coerce.number().int('a whole number').min(0, 'an index from 0').max(199, 'an index up to 199').optional() }), bodyType: 'multipart', body: z.object({ photo: z.string().meta({ format: 'binary' }) }),
  answer: photos, problems: ['not-found', 'too-large', 'wrong-file-type', 'wrong-state'],
});
export const getCheckPhoto = endpoint({
  method: 'GET', path: '/api/checks/:id/photos/:photoId', feature: 'inspections', access: readers, auditor: { thing: 'check', at: 'params.id' },
  summary: 'A photo of a check', params: idParams.extend({ photoId: idText }), answer: z.unknown(), answerType: 'image/*', problems: ['not-found'],
});
export const removeCheckPhoto = endpoint({
  method: 'POST', path: '/api/checks/:id/photos/:photoId/remove', feature: 'inspections', access: correctors,
  summary: 'Take a photo off the page of a check, with the reason', description: 'The picture stays in the database and under the seal of the check; the audit trail names it.',
  params: idParams.extend({ photoId: idText }), body: z.object({ reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000) }), answer: photos, problems: ['not-found'],
});
