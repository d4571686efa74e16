import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { listAssignments, listDueChecks, setMyAssignments, skipDueCheck } from '#contract/due-checks';
import { getCheckVerdict } from '#contract/inspections';
import { call } from '../shared/http.js';
import { orKept } from '../shared/offline-answers.js';

/** Asked again every minute: what is due changes by itself. */
export const useDueChecks = () => useQuery({ queryKey: ['due-checks'], queryFn: ({ signal }) => orKept('due checks', listDueChecks.answer, () => call(listDueChecks, { query: {}, signal })), refetchInterval: 60_000 });
export const useAssignments = () => useQuery({ queryKey: ['assignments'], queryFn: ({ signal }) => call(listAssignments, { signal }) });
/** Not kept: what is suggested and what is due next changes after the check. */
export const useFloorVerdict = (checkId: number) => useQuery({ queryKey: ['checks', checkId, 'verdict'], queryFn: ({ signal }) => call(getCheckVerdict, { params: { id: checkId }, signal }) });

export function useSkipDue() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: { planId: number; reason: string }) => call(skipDueCheck, { body }), onSuccess: () => Promise.all([client.invalidateQueries({ queryKey: ['due-checks'] }), client.invalidateQueries({ queryKey: ['now'] })]) });
}

export function useChooseMine() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: { lineIds: number[]; machineIds: number[] }) => call(setMyAssignments, { body }), onSuccess: () => Promise.all([client.invalidateQueries({ queryKey: ['due-checks'] }), client.invalidateQueries({ queryKey: ['assignments'] })]) });
}
