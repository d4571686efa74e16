import { useQuery } from '@tanstack/react-query';
import { listShifts } from '#contract/shifts';
import { call } from './http.js';
import { plantKey } from './plant.queries.js';

/** The shifts of the plant. Below the plant's key: acts of the set-up change them. */
export const useShifts = () => useQuery({ queryKey: [...plantKey, 'shifts'], queryFn: () => call(listShifts, {}) });
