import { useQuery } from '@tanstack/react-query';
import { listCounterDecisions, listCounters } from '#contract/counters';
import { call } from '../shared/http.js';
import { plantKey } from '../shared/plant.queries.js';

// Below the plant's key: stating a counter asks both anew.
export const useCounters = () => useQuery({ queryKey: [...plantKey, 'counters'], queryFn: ({ signal }) => call(listCounters, { signal }), refetchInterval: 60_000 });
export const useCounterDecisions = (machine: number | undefined) => useQuery({ queryKey: [...plantKey, 'counter-decisions', machine], queryFn: ({ signal }) => call(listCounterDecisions, { query: machine === undefined ? {} : { machine }, signal }) });
