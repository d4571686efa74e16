import { type QueryClient, useQuery } from '@tanstack/react-query';
import { listOthers, listQueue, listUnreadable } from './queue-store.js';

export const queueKey = ['check-queue'] as const;
/** What of one person is on its way from this browser. */
export const useQueue = (personId: number) => useQuery({ queryKey: [...queueKey, personId], queryFn: () => listQueue(personId), retry: false, staleTime: Infinity });
export const useOthersQueued = (personId: number) => useQuery({ queryKey: [...queueKey, 'others', personId], queryFn: () => listOthers(personId), retry: false, staleTime: Infinity });

export const useUnreadable = (personId: number) => useQuery({ queryKey: [...queueKey, 'unreadable', personId], queryFn: () => listUnreadable(personId), retry: false, staleTime: Infinity });

/** Charts, signals and the list of checks are all older than a check that was just stored. */
export const forgetJudged = (client: QueryClient): Promise<void> => client.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== 'plant' && queryKey[0] !== 'session' && queryKey[0] !== queueKey[0] });
