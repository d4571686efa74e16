import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { searchPastFixes } from '#contract/knowledge';
import { acknowledgeSignal, assignCause, closeSignal, getSignal, linkSignalNote, listSignals, reopenSignal, type SignalState, unlinkSignalNote } from '#contract/signals';
import { call } from '../shared/http.js';

export type SignalFilters = RequestOf<typeof listSignals>['query'];

export const useSignals = (query: SignalFilters) => useQuery({ queryKey: ['signals', query], queryFn: ({ signal }) => call(listSignals, { query, signal }), placeholderData: keepPreviousData });
export const useSignal = (id: number) => useQuery({ queryKey: ['signal', id], queryFn: ({ signal }) => call(getSignal, { params: { id }, signal }) });
export const useFixSearch = (q: string) => useQuery({
  queryKey: ['past-fixes', { q, kind: 'note', take: 8 }], enabled: q.trim().length >= 2, placeholderData: keepPreviousData,
  queryFn: ({ signal }) => call(searchPastFixes, { query: { q, kind: 'note', take: 8 }, signal }),
});

export type SignalChange =
  | { act: 'acknowledge'; state: SignalState } | { act: 'assign'; state: SignalState; cause: string; noteId?: number }
  | { act: 'close'; state: SignalState; comment: string } | { act: 'reopen'; state: SignalState; comment: string } | { act: 'link'; noteId: number } | { act: 'unlink'; linkId: number };

/** Any step of a signal's life; what shows it is asked for again, also after a refusal, for then somebody was faster. */
export function useSignalChange(id: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (change: SignalChange): Promise<unknown> => send(id, change),
    onSettled: () => Promise.all(['signal', 'signals', 'now', 'charts', 'streams', 'note'].map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
}

function send(id: number, change: SignalChange): Promise<unknown> {
  const params = { id };
  if (change.act === 'acknowledge') return call(acknowledgeSignal, { params, body: { state: change.state } });
  if (change.act === 'assign') return call(assignCause, { params, body: { state: change.state, cause: change.cause, noteId: change.noteId } });
  if (change.act === 'close') return call(closeSignal, { params, body: { state: change.state, comment: change.comment } });
  if (change.act === 'reopen') return call(reopenSignal, { params, body: { state: change.state, comment: change.comment } });
  if (change.act === 'link') return call(linkSignalNote, { params, body: { noteId: change.noteId } });
  return call(unlinkSignalNote, { params: { id, linkId: change.linkId } });
}
