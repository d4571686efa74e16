import { useInfiniteQuery } from '@tanstack/react-query';
import { listStudies } from '#contract/studies';
import { call } from './http.js';

export const keptStudiesKey = ['studies'] as const;

/** The server's page. */
const PAGE = 200;
/** Studies that were kept on the Workbench, newest first, page by page. */
export const useKeptStudies = () => useInfiniteQuery({
  queryKey: keptStudiesKey, initialPageParam: undefined as number | undefined,
  queryFn: ({ pageParam, signal }) => call(listStudies, { query: pageParam === undefined ? {} : { before: pageParam }, signal }),
  getNextPageParam: ({ studies }) => (studies.length < PAGE ? undefined : studies.at(-1)?.id),
});
