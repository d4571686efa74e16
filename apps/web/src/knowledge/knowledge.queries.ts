import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getIncident } from '#contract/incidents';
import { confirmNoteLink, createNote, getNote, rejectNoteLink, reviseNote, searchPastFixes } from '#contract/knowledge';
import { call } from '../shared/http.js';

export type PastFixQuery = RequestOf<typeof searchPastFixes>['query'];
export type NoteBody = RequestOf<typeof createNote>['body'];

/** The last answer stays while the next one is fetched: the list does not blink at every letter. */
export const usePastFixes = (query: PastFixQuery) => useQuery({ queryKey: ['past-fixes', query], queryFn: ({ signal }) => call(searchPastFixes, { query, signal }), placeholderData: keepPreviousData });
export const useNote = (id: number) => useQuery({ queryKey: ['note', id], queryFn: ({ signal }) => call(getNote, { params: { id }, signal }) });
/** The incident that a note is written from. */
export const useSourceIncident = (id: number | null) => useQuery({ queryKey: ['incident', id], enabled: id !== null, queryFn: ({ signal }) => call(getIncident, { params: { id: id as number }, signal }) });

function useChange<Given, Answer>(change: (given: Given) => Promise<Answer>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: change,
    onSuccess: () => Promise.all(['past-fixes', 'note', 'incident', 'incidents', 'signal', 'signals'].map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
}
export const useCreateNote = () => useChange((body: NoteBody) => call(createNote, { body }));
export const useReviseNote = (id: number) => useChange((body: NoteBody & { revision: number }) => call(reviseNote, { params: { id }, body }));
export const useConfirmLink = () => useChange((id: number) => call(confirmNoteLink, { params: { id } }));
export const useRejectLink = () => useChange((id: number) => call(rejectNoteLink, { params: { id } }));
