import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getStudy, saveStudy } from '#contract/studies';
import { call } from '../../shared/http.js';
import { keptStudiesKey } from '../../shared/kept-studies.queries.js';

export function useSaveStudy() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof saveStudy>['body']) => call(saveStudy, { body }), onSuccess: () => client.invalidateQueries({ queryKey: keptStudiesKey }) });
}

export const useOpenStudy = () => useMutation({ mutationFn: (id: number) => call(getStudy, { params: { studyId: String(id) } }) });
