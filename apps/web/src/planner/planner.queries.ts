import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getStreamVariation, takeOverPlan } from '#contract/planner';
import { listStreams } from '#contract/specifications';
import { call } from '../shared/http.js';

export type TakeOverRequest = RequestOf<typeof takeOverPlan>['body'];
type Span = { from?: string; to?: string };

export const useStreams = () => useQuery({ queryKey: ['streams'], queryFn: ({ signal }) => call(listStreams, { query: {}, signal }), staleTime: 60_000 });

/** Not under "streams": a check that comes in while plans are compared must not change the figures under the reader's eyes. */
export const useVariation = (id: number, { from, to }: Span) => useQuery({ queryKey: ['variation', id, from, to], queryFn: ({ signal }) => call(getStreamVariation, { params: { id }, query: { from, to }, signal }), staleTime: 300_000 });

export function useTakeOver(streamId: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: TakeOverRequest) => call(takeOverPlan, { params: { id: streamId }, body }),
    onSuccess: async () => {
      await Promise.all([['variation'], ['streams'], ['charts'], ['plant'], ['now']].map((queryKey) => client.invalidateQueries({ queryKey })));
    },
  });
}
