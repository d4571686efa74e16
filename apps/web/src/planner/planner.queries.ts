import { useMutation, useQueries, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { getStreamVariation, takeOverPlan } from '#contract/planner';
import { listStreams } from '#contract/specifications';
import { detectionPlan } from '#contract/workbench/power';
import { call } from '../shared/http.js';
import { figuresOf, type PlanAnswer, planBody } from './plan-figures.js';
import type { PlanDraft } from './planner.url.js';
import type { Ground } from './start-plans.js';

export type TakeOverRequest = RequestOf<typeof takeOverPlan>['body'];
type Span = { from?: string; to?: string };

export const useStreams = () => useQuery({ queryKey: ['streams'], queryFn: ({ signal }) => call(listStreams, { query: {}, signal }), staleTime: 60_000 });

/** Not under "streams": a check that comes in while plans are compared must not change the figures under the reader's eyes. */
export const useVariation = (id: number, { from, to }: Span) => useQuery({ queryKey: ['variation', id, from, to], queryFn: ({ signal }) => call(getStreamVariation, { params: { id }, query: { from, to }, signal }), staleTime: 300_000 });

/** One computation a plan. Former figures do not stay in sight: beside a changed plan they would be read as its own. */
export function usePlanFigures(ground: Ground, plans: readonly PlanDraft[]) {
  return useQueries({
    queries: plans.map((plan) => {
      const body = planBody(ground, plan);
      return {
        queryKey: ['detection-plan', body, ground.speed === null], enabled: body !== null, staleTime: Infinity,
        queryFn: ({ signal }: { signal: AbortSignal }) => computed(body, signal),
        select: (answer: PlanAnswer) => figuresOf(answer, ground),
      };
    }),
  });
}

function computed(body: ReturnType<typeof planBody>, signal: AbortSignal) {
  if (body === null) throw new Error('nothing varies: nothing to compute');
  return call(detectionPlan, { body, query: {}, signal });
}

export function useTakeOver(streamId: number) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: TakeOverRequest) => call(takeOverPlan, { params: { id: streamId }, body }),
    onSuccess: async () => {
      await Promise.all([['variation'], ['streams'], ['charts'], ['plant'], ['now']].map((queryKey) => client.invalidateQueries({ queryKey })));
    },
  });
}
