import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getStudy, listStudies, saveStudy } from '#contract/studies';
import { call } from '../../shared/http.js';

const listKey = ['studies'] as const;

export const useStudies = () => useQuery({ queryKey: listKey, queryFn: () => call(listStudies, { query: {} }) });

export function useSaveStudy() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof saveStudy>['body']) => call(saveStudy, { body }), onSuccess: () => client.invalidateQueries({ queryKey: listKey }) });
}

export const useOpenStudy = () => useMutation({ mutationFn: (id: number) => call(getStudy, { params: { studyId: String(id) } }) });
