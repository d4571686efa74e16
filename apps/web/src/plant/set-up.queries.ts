import { useInfiniteQuery, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { z } from 'zod';
import type { AnswerOf, Endpoint } from '#contract/endpoint';
import { listSpecifications, listUsualCharacteristics } from '#contract/plant';
import { listSynonyms } from '#contract/synonyms';
import { listAudit, listUsers } from '#contract/users';
import { address, call, send } from '../shared/http.js';
import { plantKey } from '../shared/plant.queries.js';

export const useUsual = () => useQuery({ queryKey: [...plantKey, 'usual'], queryFn: () => call(listUsualCharacteristics, {}) });
export const useRevisions = (product: number | undefined) => useQuery({ queryKey: [...plantKey, 'revisions', product], queryFn: () => call(listSpecifications, { query: { product: product ?? 0 } }), enabled: product !== undefined });
export const useSynonyms = () => useQuery({ queryKey: [...plantKey, 'synonyms'], queryFn: () => call(listSynonyms, {}) });
export const useUsers = () => useQuery({ queryKey: [...plantKey, 'users'], queryFn: () => call(listUsers, {}) });
const AUDIT_PAGE = 50;
/** The trail page by page, newest first; the next page begins before the last entry that was read. */
export const useAudit = (subject: string) => useInfiniteQuery({
  queryKey: ['audit', subject], initialPageParam: undefined as string | undefined,
  queryFn: ({ pageParam }) => call(listAudit, { query: { take: AUDIT_PAGE, ...(subject ? { subject } : {}), ...(pageParam ? { before: pageParam } : {}) } }),
  getNextPageParam: (page) => (page.length < AUDIT_PAGE ? undefined : page.at(-1)?.id),
});

/** One set-up act; every list of the plant is asked again after it. The body comes from a form: the server's contract decides what fits. */
export function useAct<E extends Endpoint<z.ZodType, z.ZodType, z.ZodType, z.ZodType>>(endpoint: E) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: async ({ id, body }: { id?: number; body: object }): Promise<AnswerOf<E>> =>
      endpoint.answer.parse(await send(endpoint, address(endpoint, { params: { id } }), { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } })) as AnswerOf<E>,
    onSuccess: () => client.invalidateQueries({ queryKey: plantKey }),
  });
}
