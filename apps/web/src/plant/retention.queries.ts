import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { deletePastRetention, deleteRecordsPast, getRetention } from '#contract/retention';
import { call } from '../shared/http.js';
import { plantKey } from '../shared/plant.queries.js';

/** Below the plant's key: every set-up act asks for it again. */
const key = [...plantKey, 'retention'] as const;
export const useRetention = () => useQuery({ queryKey: key, queryFn: ({ signal }) => call(getRetention, { signal }) });

export function useDeletePast() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof deletePastRetention>['body']) => call(deletePastRetention, { body }), onSuccess: () => client.invalidateQueries() });
}

export function useDeleteRecords() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof deleteRecordsPast>['body']) => call(deleteRecordsPast, { body }), onSuccess: () => client.invalidateQueries() });
}
