import { useQuery } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getCapability, listCapabilityChoices } from '#contract/studies';
import { call } from '../shared/http.js';

export type StudyRequest = RequestOf<typeof getCapability>['query'];

export const useCapabilityChoices = () => useQuery({ queryKey: ['capability', 'choices'], queryFn: ({ signal }) => call(listCapabilityChoices, { signal }), staleTime: 60_000 });

export const useCapability = (query: StudyRequest | null) => useQuery({
  queryKey: ['capability', query], enabled: query !== null,
  queryFn: ({ signal }) => call(getCapability, { query: query as StudyRequest, signal }),
});
