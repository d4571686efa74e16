import { useQuery } from '@tanstack/react-query';
import { getNow } from '#contract/signals';
import { call } from '../shared/http.js';

/** News come by events; the half minute is for what only time changes, such as a check that falls due. */
export const REFETCH_MS = 30_000;
export const useNow = () => useQuery({ queryKey: ['now'], queryFn: ({ signal }) => call(getNow, { signal }), refetchInterval: REFETCH_MS });
