import { ProblemError } from '../shared/http.js';
import { laterBecause } from './later-because.js';
import { dropPhotos, type KeptPhoto, listPersonsPhotos, setRefused } from './photo-store.js';
import type { SendOutcome } from './send-queue.js';

/**
 * Sends the photos of checks that the server has, one by one. A picture that arrived and whose answer was lost is sent
 * again: the server stores it once. What the server will not take stays here with the reason.
 */
export async function sendPhotos({ personId, signedIn, send }: { personId: number; signedIn: () => Promise<number | null>; send: (photo: KeptPhoto & { checkId: number }) => Promise<unknown> }): Promise<SendOutcome> {
  const ready = (await listPersonsPhotos(personId)).flatMap((photo) => (photo.checkId === null || photo.refused !== null ? [] : [{ ...photo, checkId: photo.checkId }]));
  if (ready.length === 0) return 'done';
  try {
    if ((await signedIn()) !== personId) return 'sign-in';
  } catch (error) {
    return laterBecause(error) ?? 'busy';
  }
  for (const photo of ready) {
    try {
      await send(photo);
    } catch (error) {
      const later = laterBecause(error);
      if (later !== null) return later;
      // An answer that could not be read says nothing about the photo: it is tried again later.
      if (!(error instanceof ProblemError)) return 'busy';
      await setRefused(photo.place, error.problem);
      continue;
    }
    await dropPhotos([photo.place]);
  }
  return 'done';
}
