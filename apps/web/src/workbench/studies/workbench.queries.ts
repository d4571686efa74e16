import { useInfiniteQuery, useMutation, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getStudy, listStudies, saveStudy } from '#contract/studies';
import { call } from '../../shared/http.js';

const listKey = ['studies'] as const;

/** The server's page. */
const PAGE = 200;
/** Newest first, page by page. */
export const useStudies = () => useInfiniteQuery({
  queryKey: listKey, initialPageParam: undefined as number | undefined,
  queryFn: ({ pageParam, signal }) => call(listStudies, { query: pageParam === undefined ? {} : { before: pageParam }, signal }),
  getNextPageParam: ({ studies }) => (studies.length < PAGE ? undefined : studies.at(-1)?.id),
});

export function useSaveStudy() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof saveStudy>['body']) => call(saveStudy, { body }), onSuccess: () => client.invalidateQueries({ queryKey: listKey }) });
}

export const useOpenStudy = () => useMutation({ mutationFn: (id: number) => call(getStudy, { params: { studyId: String(id) } }) });
