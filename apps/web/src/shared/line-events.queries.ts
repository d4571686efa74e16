import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getPlant } from '#contract/plant';
import { recordLineEvent } from '#contract/production';
import { call } from './http.js';

export type NewLineEvent = RequestOf<typeof recordLineEvent>['body'];

export const useLines = () => useQuery({ queryKey: ['plant'], queryFn: ({ signal }) => call(getPlant, { signal }), staleTime: 60_000 });

export function useRecordLineEvent() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: NewLineEvent) => call(recordLineEvent, { body }),
    onSuccess: () => Promise.all(['now', 'charts', 'signal'].map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
}
