import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { getIncident, getIncidentSurroundings } from '#contract/incidents';
import { confirmNoteLink, type NoteLink, rejectNoteLink } from '#contract/knowledge';
import { getSignal, linkSignalNote, unlinkSignalNote } from '#contract/signals';
import { similarToIncident, similarToSignal } from '#contract/similar';
import type { SeenOrigin } from '#contract/trace-places';
import { getKeptTrace, getSignalSurroundings, keepSignalTrace, keepTrace, listKeptSignalTraces, listKeptTraces, traceIncident, traceSignal } from '#contract/traces';
import { call } from '../shared/http.js';
import type { TraceSubject } from './trace-subject.js';

const keyOf = ({ kind, id }: TraceSubject) => ['trace', kind, id] as const;
const MINUTE = 60_000;

// News of a check, a signal or the incident makes everything under "trace" old: the page ranks anew.
export const useTrace = (subject: TraceSubject, { take, defect }: { take: number; defect?: string | undefined }) => useQuery({
  queryKey: [...keyOf(subject), 'ranking', take, defect ?? null], refetchInterval: MINUTE, placeholderData: keepPreviousData,
  queryFn: ({ signal }) => (subject.kind === 'incident' ? call(traceIncident, { params: { id: subject.id }, query: { take }, signal }) : call(traceSignal, { params: { id: subject.id }, query: { take, ...(defect ? { defect } : {}) }, signal })),
});
export const useKept = (subject: TraceSubject) => useQuery({
  queryKey: [...keyOf(subject), 'kept'], queryFn: ({ signal }) => call(subject.kind === 'incident' ? listKeptTraces : listKeptSignalTraces, { params: { id: subject.id }, signal }),
});
export const useKeptTrace = (id: number) => useQuery({ queryKey: ['kept-trace', id], queryFn: ({ signal }) => call(getKeptTrace, { params: { id }, signal }), staleTime: Number.POSITIVE_INFINITY });
export const useSurroundings = (subject: TraceSubject, before: number) => useQuery({
  queryKey: [...keyOf(subject), 'surroundings', before], placeholderData: keepPreviousData,
  queryFn: ({ signal }) => call(subject.kind === 'incident' ? getIncidentSurroundings : getSignalSurroundings, { params: { id: subject.id }, query: { before, after: 8 }, signal }),
});
export const useSimilar = (subject: TraceSubject) => useQuery({ queryKey: [...keyOf(subject), 'similar'], queryFn: ({ signal }) => call(subject.kind === 'incident' ? similarToIncident : similarToSignal, { params: { id: subject.id }, signal }) });
/** Notes that were suggested or confirmed, out of what the subject's own page asks for. Suggestions come a moment after it was logged: while there is none it is asked again, up to six times in all. */
export const useNotes = ({ kind, id }: TraceSubject) => useQuery({
  queryKey: [kind, id], queryFn: ({ signal }) => call(kind === 'incident' ? getIncident : getSignal, { params: { id }, signal }), select: ({ notes }) => notes,
  refetchInterval: ({ state: { data, dataUpdateCount } }) => (data?.notes.length === 0 && dataUpdateCount < 6 ? 1500 : false),
});

export function useKeepTrace(subject: TraceSubject, defect?: string) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: { chosen: SeenOrigin | null; comment: string }) => (subject.kind === 'incident' ? call(keepTrace, { params: { id: subject.id }, body }) : call(keepSignalTrace, { params: { id: subject.id }, body: { ...body, defect: defect ?? null } })),
    onSuccess: () => client.invalidateQueries({ queryKey: [...keyOf(subject), 'kept'] }),
    // Refused as changed meanwhile: the page shows the ranking that stands now.
    onError: () => client.invalidateQueries({ queryKey: [...keyOf(subject), 'ranking'] }),
  });
}

/** A person's word on a note: it moves later suggestions. At a signal it is a step of its history, too. */
export function useJudgeNote(subject: TraceSubject) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: async ({ link, fits }: { link: NoteLink; fits: boolean }): Promise<void> => {
      if (subject.kind === 'signal') await (fits ? call(linkSignalNote, { params: { id: subject.id }, body: { noteId: link.noteId } }) : call(unlinkSignalNote, { params: { id: subject.id, linkId: link.id } }));
      else await (fits ? call(confirmNoteLink, { params: { id: link.id } }) : call(rejectNoteLink, { params: { id: link.id } }));
    },
    onSettled: () => Promise.all([client.invalidateQueries({ queryKey: keyOf(subject) }), client.invalidateQueries({ queryKey: [subject.kind, subject.id] }), client.invalidateQueries({ queryKey: ['note'] })]),
  });
}
