import { useQuery } from '@tanstack/react-query';
import { listGaugeStandings } from '#contract/gauge-studies';
import { call } from './http.js';
import { plantKey } from './plant.queries.js';

/** How each gauge stands. Below the plant's key: acts of the set-up change it, and so do calibrations and studies. */
export const useGaugeStandings = () => useQuery({ queryKey: [...plantKey, 'gauge-standings'], queryFn: ({ signal }) => call(listGaugeStandings, { signal }) });
