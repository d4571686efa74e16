import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { getIncidentSurroundings } from '#contract/incidents';
import { keepTrace, listKeptTraces, traceIncident } from '#contract/traces';
import { call } from '../shared/http.js';

// Under the incident's key: whatever changes it, and each new check of the plant, ranks anew.
export const useTrace = (id: number) => useQuery({ queryKey: ['incident', id, 'trace'], queryFn: ({ signal }) => call(traceIncident, { params: { id }, signal }), refetchInterval: 60_000 });
export const useKept = (id: number) => useQuery({ queryKey: ['incident', id, 'traces'], queryFn: ({ signal }) => call(listKeptTraces, { params: { id }, signal }) });
export const useSurroundings = (id: number, before: number) => useQuery({ queryKey: ['incident', id, 'surroundings', { before, after: 8 }], queryFn: ({ signal }) => call(getIncidentSurroundings, { params: { id }, query: { before, after: 8 }, signal }), placeholderData: keepPreviousData });

export function useKeepTrace(id: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: { chosen: number | null; comment: string }) => call(keepTrace, { params: { id }, body }),
    onSuccess: () => client.invalidateQueries({ queryKey: ['incident', id, 'traces'] }),
  });
}
