import { useQuery } from '@tanstack/react-query';
import { getPlant } from '#contract/plant';
import { call } from './http.js';
import { orKept } from './offline-answers.js';

/** What every act of the set-up asks for anew lies under it. Weld windows, weights of defects and revisions of check plans have keys of their own. */
export const plantKey = ['plant'] as const;
/** The plant with its machines, products and characteristics; the last answer where there is no network. */
export const usePlant = () => useQuery({ queryKey: plantKey, queryFn: ({ signal }) => orKept('plant', getPlant.answer, () => call(getPlant, { signal })), staleTime: 5_000 });
