import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { decodeCanCode } from '#contract/can-codes';
import type { RequestOf } from '#contract/endpoint';
import { addIncidentPhoto, changeIncident, closeIncident, getIncident, getIncidentSurroundings, type Incident, linkIncidentSignal, listIncidents, logIncident, reopenIncident, unlinkIncidentSignal } from '#contract/incidents';
import { confirmNoteLink, rejectNoteLink } from '#contract/knowledge';
import { call, upload } from '../shared/http.js';

export type IncidentFilters = RequestOf<typeof listIncidents>['query'];
export type NewIncidentBody = RequestOf<typeof logIncident>['body'];
type Change = RequestOf<typeof changeIncident>['body'];

const incidentKey = (id: number) => ['incident', id] as const;
export const useIncidents = (query: IncidentFilters) => useQuery({ queryKey: ['incidents', query], queryFn: ({ signal }) => call(listIncidents, { query, signal }), placeholderData: keepPreviousData });
// Suggested notes come a moment after an incident was logged: the page asks again until it is ten seconds old.
export const useIncident = (id: number) => useQuery({
  queryKey: incidentKey(id), queryFn: ({ signal }) => call(getIncident, { params: { id }, signal }),
  refetchInterval: ({ state: { data } }) => (data && data.notes.length === 0 && Date.now() - Date.parse(data.loggedAt) < 10_000 ? 1500 : false),
});
export const useSurroundings = (id: number, hours: { before: number; after: number }) => useQuery({ queryKey: ['incident', id, 'surroundings', hours], queryFn: ({ signal }) => call(getIncidentSurroundings, { params: { id }, query: hours, signal }), placeholderData: keepPreviousData });
/** What the plant's patterns make of a code; nothing is asked while code or receipt are missing. */
export const useDecodeCanCode = (code: string, receivedAt: string | null) => useQuery({ queryKey: ['can-code', code, receivedAt], queryFn: ({ signal }) => call(decodeCanCode, { query: { code, receivedAt: receivedAt ?? '' }, signal }), enabled: code !== '' && receivedAt !== null, staleTime: 60_000 });

/** A change answers the whole incident: it is shown at once, and what else tells of it is fetched again. */
export function useIncidentChange<Given>(id: number, change: (given: Given) => Promise<Incident>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: change,
    onSuccess: (incident) => {
      client.setQueryData(incidentKey(id), incident);
      void client.invalidateQueries({ queryKey: ['incidents'] });
      void client.invalidateQueries({ queryKey: ['past-fixes'] });
      return client.invalidateQueries({ queryKey: ['incident', id, 'surroundings'] });
    },
  });
}
export const useChangeIncident = (id: number) => useIncidentChange(id, (body: Change) => call(changeIncident, { params: { id }, body }));
export const useCloseIncident = (id: number) => useIncidentChange(id, (body: { revision: number; closingNote: string; withoutVerification?: string }) => call(closeIncident, { params: { id }, body }));
export const useReopenIncident = (id: number) => useIncidentChange(id, (body: { revision: number; reason: string }) => call(reopenIncident, { params: { id }, body }));
export const useLinkSignal = (id: number) => useIncidentChange(id, (body: { signalId: number; reason: string }) => call(linkIncidentSignal, { params: { id }, body }));
export const useUnlinkSignal = (id: number) => useIncidentChange(id, ({ signalId, reason }: { signalId: number; reason: string }) => call(unlinkIncidentSignal, { params: { id, signalId }, query: { reason } }));

export function useJudgeNote(id: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: async ({ linkId, fits }: { linkId: number; fits: boolean }) => { await (fits ? call(confirmNoteLink, { params: { id: linkId } }) : call(rejectNoteLink, { params: { id: linkId } })); },
    onSuccess: () => Promise.all([client.invalidateQueries({ queryKey: incidentKey(id) }), client.invalidateQueries({ queryKey: ['note'] })]),
  });
}

export async function uploadPhotos(id: number, files: readonly File[]): Promise<void> {
  const form = new FormData();
  for (const file of files) form.append('photo', file, file.name);
  await upload(addIncidentPhoto, { params: { id }, form });
}
export function useAddPhotos(id: number) {
  const client = useQueryClient();
  return useMutation({ mutationFn: (files: readonly File[]) => uploadPhotos(id, files), onSuccess: () => client.invalidateQueries({ queryKey: incidentKey(id) }) });
}

/** Logs the incident, then sends its photos: refused photos do not undo the incident. */
export function useLogIncident() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: async ({ body, photos }: { body: NewIncidentBody; photos: readonly File[] }) => {
      const incident = await call(logIncident, { body });
      const photoError: unknown = photos.length === 0 ? null : await uploadPhotos(incident.id, photos).then(() => null, (error: unknown) => error);
      return { incident, photosFailed: photoError !== null };
    },
    onSuccess: () => client.invalidateQueries({ queryKey: ['incidents'] }),
  });
}
