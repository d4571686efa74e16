import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getComplaintGaps, getIncidentPareto, getIncidentReply, keepVerification, linkIncidentEvent, listOverdueIncidents, previewVerification, removeIncidentPhoto, type ReplyLanguage, saveIncidentReply, setIncidentDue, setIncidentWhys, takeIncidentBack, takeIncidentStep, unlinkIncidentEvent } from '#contract/incident-life';
import { listStreams } from '#contract/specifications';
import { call } from '../shared/http.js';
import { useIncidentChange } from './incidents.queries.js';

export type StepBody = RequestOf<typeof takeIncidentStep>['body'];
export type VerificationBody = RequestOf<typeof keepVerification>['body'];
export type ParetoQuery = RequestOf<typeof getIncidentPareto>['query'];

export const useOverdue = () => useQuery({ queryKey: ['incidents', 'overdue'], queryFn: ({ signal }) => call(listOverdueIncidents, { signal }), refetchInterval: 300_000 });
export const usePareto = (query: ParetoQuery) => useQuery({ queryKey: ['incidents', 'pareto', query], queryFn: ({ signal }) => call(getIncidentPareto, { query, signal }), placeholderData: keepPreviousData });
export const useGaps = (query: RequestOf<typeof getComplaintGaps>['query']) => useQuery({ queryKey: ['incidents', 'gaps', query], queryFn: ({ signal }) => call(getComplaintGaps, { query, signal }), placeholderData: keepPreviousData });
export const useStreams = () => useQuery({ queryKey: ['streams'], queryFn: ({ signal }) => call(listStreams, { query: {}, signal }), staleTime: 60_000 });
/** In the language that was asked for; while another one loads, what was there stays. */
export const useReply = (id: number, language: ReplyLanguage | undefined) => useQuery({ queryKey: ['incident', id, 'reply', language], queryFn: ({ signal }) => call(getIncidentReply, { params: { id }, query: language === undefined ? {} : { language }, signal }), placeholderData: keepPreviousData });

export const useTakeStep = (id: number) => useIncidentChange(id, (body: StepBody) => call(takeIncidentStep, { params: { id }, body }));
export const useTakeBack = (id: number) => useIncidentChange(id, (body: { revision: number; reason: string }) => call(takeIncidentBack, { params: { id }, body }));
export const useSetDue = (id: number) => useIncidentChange(id, (body: { revision: number; dueAt: string | null; reason: string }) => call(setIncidentDue, { params: { id }, body }));
export const useSetWhys = (id: number) => useIncidentChange(id, (body: RequestOf<typeof setIncidentWhys>['body']) => call(setIncidentWhys, { params: { id }, body }));
export const useLinkEvent = (id: number) => useIncidentChange(id, (body: { eventId: number; reason: string }) => call(linkIncidentEvent, { params: { id }, body }));
export const useUnlinkEvent = (id: number) => useIncidentChange(id, ({ eventId, reason }: { eventId: number; reason: string }) => call(unlinkIncidentEvent, { params: { id, eventId }, body: { reason } }));
export const useRemovePhoto = (id: number) => useIncidentChange(id, ({ photoId, reason }: { photoId: number; reason: string }) => call(removeIncidentPhoto, { params: { id, photoId }, body: { reason } }));

export const usePreviewVerification = (id: number) => useMutation({ mutationFn: (body: VerificationBody) => call(previewVerification, { params: { id }, body }) });
export function useKeepVerification(id: number) {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: VerificationBody) => call(keepVerification, { params: { id }, body }), onSuccess: () => client.invalidateQueries({ queryKey: ['incident', id] }) });
}
export function useSaveReply(id: number) {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: { seen: number; text: string; counts: boolean; language: ReplyLanguage }) => call(saveIncidentReply, { params: { id }, body }), onSuccess: () => client.invalidateQueries({ queryKey: ['incident', id] }) });
}
