import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { correctReading, type Correction, getCheck, listChecks, type NewCheck, recordCheck } from '#contract/inspections';
import { getPlant } from '#contract/plant';
import { call } from '../shared/http.js';

export const plantQuery = { queryKey: ['plant'], queryFn: ({ signal }: { signal: AbortSignal }) => call(getPlant, { signal }) } as const;
export const usePlant = () => useQuery(plantQuery);

export const checkKey = (id: number) => ['checks', id] as const;
export const useCheck = (id: number) => useQuery({ queryKey: checkKey(id), queryFn: ({ signal }) => call(getCheck, { params: { id }, signal }) });

export const useRecentChecks = (machine: number) => useQuery({ queryKey: ['checks', 'of-machine', machine], queryFn: ({ signal }) => call(listChecks, { query: { machine, take: 8 }, signal }) });

/** Safe to repeat: the key in the check makes the server store it once. */
export function useRecordCheck() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (check: NewCheck) => call(recordCheck, { body: check }),
    networkMode: 'always',
    // Charts, signals and the list of checks are all older than this answer.
    onSuccess: () => client.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== 'plant' && queryKey[0] !== 'session' }),
    // An earlier try may have been stored although its answer was lost: the list of checks must show it.
    onError: () => client.invalidateQueries({ queryKey: ['checks', 'of-machine'] }),
  });
}

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
