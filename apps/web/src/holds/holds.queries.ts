import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { addHoldPallets, computeHold, disposeHold, getHold, type Hold, listHolds, moveHold, placeHold, planHoldSample, reopenHold, sampleHold } from '#contract/holds';
import { call } from '../shared/http.js';

type Body<E> = RequestOf<E>['body'];
export const useHolds = (query: RequestOf<typeof listHolds>['query']) => useQuery({ queryKey: ['holds', query], queryFn: ({ signal }) => call(listHolds, { query, signal }), placeholderData: keepPreviousData });
export const useHold = (id: number) => useQuery({ queryKey: ['hold', id], queryFn: ({ signal }) => call(getHold, { params: { id }, signal }) });
export const useSampleSize = (query: { share: number; risk: number; lotCans?: number } | null) => useQuery({ queryKey: ['hold-sample', query], queryFn: ({ signal }) => call(planHoldSample, { query: query ?? { share: 0, risk: 0 }, signal }), enabled: query !== null });
export const useComputeHold = () => useMutation({ mutationFn: (body: Body<typeof computeHold>) => call(computeHold, { body }) });

export function usePlaceHold() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: Body<typeof placeHold>) => call(placeHold, { body }), onSuccess: () => client.invalidateQueries({ queryKey: ['holds'] }) });
}

/** A change answers the whole hold: it is shown at once. */
function useHoldChange<Given>(id: number, change: (given: Given) => Promise<Hold>) {
  const client = useQueryClient();
  return useMutation({ mutationFn: change, onSuccess: (hold) => { client.setQueryData(['hold', id], hold); return client.invalidateQueries({ queryKey: ['holds'] }); } });
}
export const useMoveHold = (id: number) => useHoldChange(id, (body: Body<typeof moveHold>) => call(moveHold, { params: { id }, body }));
export const useAddPallets = (id: number) => useHoldChange(id, (body: Body<typeof addHoldPallets>) => call(addHoldPallets, { params: { id }, body }));
export const useSampleHold = (id: number) => useHoldChange(id, (body: Body<typeof sampleHold>) => call(sampleHold, { params: { id }, body }));
export const useDisposeHold = (id: number) => useHoldChange(id, (body: Body<typeof disposeHold>) => call(disposeHold, { params: { id }, body }));
export const useReopenHold = (id: number) => useHoldChange(id, (body: Body<typeof reopenHold>) => call(reopenHold, { params: { id }, body }));
