import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { listCanCodePatterns, previewCanCode, retireCanCodePattern, saveCanCodePattern } from '#contract/can-codes';
import type { RequestOf } from '#contract/endpoint';
import { call } from '../shared/http.js';

export type Tried = RequestOf<typeof previewCanCode>['body'];
export const useCanCodePatterns = () => useQuery({ queryKey: ['can-code-patterns'], queryFn: ({ signal }) => call(listCanCodePatterns, { signal }) });
export const useTryPattern = (body: Tried | null) => useQuery({
  queryKey: ['can-code-try', body], enabled: body !== null, placeholderData: keepPreviousData, retry: false,
  queryFn: ({ signal }) => call(previewCanCode, { body: body ?? { lineId: 0, pattern: '', codedAtStepId: 0 }, signal }),
});

export function useSavePattern() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof saveCanCodePattern>['body']) => call(saveCanCodePattern, { body }), onSuccess: () => Promise.all([client.invalidateQueries({ queryKey: ['can-code-patterns'] }), client.invalidateQueries({ queryKey: ['can-code'] })]) });
}
export function useRetirePattern() {
  const client = useQueryClient();
  return useMutation({ mutationFn: ({ id, reason }: { id: number; reason: string }) => call(retireCanCodePattern, { params: { id }, body: { reason } }), onSuccess: () => Promise.all([client.invalidateQueries({ queryKey: ['can-code-patterns'] }), client.invalidateQueries({ queryKey: ['can-code'] })]) });
}
