import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { addCheckPhotos, type CheckPhoto, removeCheckPhoto } from '#contract/check-photos';
import type { CheckView } from '#contract/inspections';
import { call, upload } from '../shared/http.js';
import { draftKeys } from './draft-store.js';
import { checkKey } from './inspections.queries.js';
import { listPersonsPhotos, listPhotosOf } from './photo-store.js';
import { queueKey } from './queue.queries.js';
import { listQueue } from './queue-store.js';

/** The photos of one entry in this browser. */
export const useEntryPhotos = (key: string) => useQuery({ queryKey: [...queueKey, 'photos', key], queryFn: () => listPhotosOf(key), retry: false, staleTime: Infinity });

/** An entry is written down a moment after its photo. */
const SETTLED_MS = 60_000;
/** Photos whose check the server has, and those whose entry is nowhere any more. */
export const usePhotosOnTheirWay = (personId: number) => useQuery({
  queryKey: [...queueKey, 'photos', 'of person', personId], retry: false, staleTime: Infinity,
  queryFn: async () => {
    const [photos, queued] = [await listPersonsPhotos(personId), await listQueue(personId)];
    const known = new Set([...draftKeys(personId), ...queued.map(({ key }) => key)]);
    return photos.filter(({ checkId, key, addedAt }) => checkId !== null || (!known.has(key) && Date.now() - new Date(addedAt).getTime() > SETTLED_MS));
  },
});

/** The request that brings one photo to its check. */
export function photoRequest(checkId: number, { can, fileName, blob }: { can: number | null; fileName: string; blob: Blob }) {
  const form = new FormData();
  form.append('photo', blob, fileName);
  return { params: { id: checkId }, ...(can === null ? {} : { query: { can } }), form };
}

function usePhotoChange<Asked>(checkId: number, ask: (asked: Asked) => Promise<{ photos: CheckPhoto[] }>) {
  const client = useQueryClient();
  const show = ({ photos }: { photos: CheckPhoto[] }) => client.setQueryData(checkKey(checkId), (check: CheckView | undefined) => check && { ...check, photos });
  // Some of several may be stored when one is refused.
  return useMutation({ mutationFn: ask, onSuccess: show, onError: () => client.invalidateQueries({ queryKey: checkKey(checkId) }) });
}
/** One a request, in order: the server takes few files at once, and a person may choose many. */
export const useAddCheckPhotos = (id: number) => usePhotoChange(id, async ({ files, can }: { files: readonly File[]; can: number | null }) => {
  let answer: { photos: CheckPhoto[] } = { photos: [] };
  for (const file of files) answer = await upload(addCheckPhotos, photoRequest(id, { can, fileName: file.name, blob: file }));
  return answer;
});
export const useRemoveCheckPhoto = (id: number) => usePhotoChange(id, ({ photoId, reason }: { photoId: number; reason: string }) => call(removeCheckPhoto, { params: { id, photoId }, body: { reason } }));
