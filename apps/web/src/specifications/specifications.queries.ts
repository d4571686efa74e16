import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { compareCharts, freezeLimits, listStreams, previewLimits } from '#contract/specifications';
import { call } from '../shared/http.js';

export type ComparisonRequest = RequestOf<typeof compareCharts>['query'];
export type BaselineRequest = RequestOf<typeof previewLimits>['body'];
export type FreezeRequest = RequestOf<typeof freezeLimits>['body'];

export const useStreams = () => useQuery({ queryKey: ['streams'], queryFn: ({ signal }) => call(listStreams, { query: {}, signal }), staleTime: 60_000 });

export const useComparison = (query: ComparisonRequest) => useQuery({ queryKey: ['charts', 'compare', query], queryFn: ({ signal }) => call(compareCharts, { query, signal }) });

export const usePreview = (streamId: number) => useMutation({ mutationFn: (body: BaselineRequest) => call(previewLimits, { params: { streamId }, body }) });

export function useFreeze(streamId: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: FreezeRequest) => call(freezeLimits, { params: { streamId }, body }),
    onSuccess: async () => {
      await Promise.all([['charts'], ['streams'], ['signals']].map((queryKey) => client.invalidateQueries({ queryKey })));
    },
  });
}
