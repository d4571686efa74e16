import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { correctReading, type Correction, getCheck, listChecks } from '#contract/inspections';
import { call, OfflineError } from '../shared/http.js';
import { keptAnswer, orKept } from '../shared/offline-answers.js';


export const checkKey = (id: number) => ['checks', id] as const;
export const useCheck = (id: number) => useQuery({ queryKey: checkKey(id), queryFn: ({ signal }) => orKept(`check ${id}`, getCheck.answer, () => call(getCheck, { params: { id }, signal })) });

const RECENT = 8;
/** How many checks of the whole plant are kept for the time without a network. */
const KEPT_CHECKS = 200;
const keptChecks = 'checks of the plant';

/** The last checks of a machine; without the network, those of them that are among the last ones of the plant kept here. */
export const useRecentChecks = (machine: { id: number; code: string }) => useQuery({
  queryKey: ['checks', 'of-machine', machine.id],
  queryFn: async ({ signal }) => {
    try {
      return await call(listChecks, { query: { machine: machine.id, take: RECENT }, signal });
    } catch (error) {
      const kept = error instanceof OfflineError ? await keptAnswer(keptChecks, listChecks.answer) : null;
      if (!kept) throw error;
      return { checks: kept.checks.filter((check) => check.machine === machine.code).slice(0, RECENT) };
    }
  },
});

/** Asked for by the entry screen, so that the last verdicts are there when the network is not. */
export const useKeepRecentChecks = () => useQuery({ queryKey: ['checks', 'kept'], queryFn: ({ signal }) => orKept(keptChecks, listChecks.answer, () => call(listChecks, { query: { take: KEPT_CHECKS }, signal })), staleTime: 300_000 });

export function useCorrectReading(id: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (correction: Correction) => call(correctReading, { params: { id }, body: correction }),
    networkMode: 'always',
    onSuccess: async ({ check }) => {
      await client.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== 'plant' && queryKey[0] !== 'session' && !(queryKey[0] === 'checks' && queryKey[1] === id) });
      client.setQueryData(checkKey(id), check);
    },
  });
}
