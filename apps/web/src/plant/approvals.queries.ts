import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { decideSpecification, listProposals, previewSpecification, setSecondPerson, type SpecificationProposal } from '#contract/approvals';
import type { RequestOf } from '#contract/endpoint';
import { call } from '../shared/http.js';
import { plantKey } from '../shared/plant.queries.js';

export const useProposals = () => useQuery({ queryKey: [...plantKey, 'proposals'], queryFn: ({ signal }) => call(listProposals, { signal }) });

export const useEffectOfLimits = ({ productId, characteristicId, lsl, target, usl }: SpecificationProposal, days: number) => useQuery({
  queryKey: [...plantKey, 'effect', productId, characteristicId, lsl, target, usl, days],
  queryFn: ({ signal }) => call(previewSpecification, { body: { productId, characteristicId, lsl, target, usl, days }, signal }), staleTime: 60_000,
});

export function useDecide(id: number) {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof decideSpecification>['body']) => call(decideSpecification, { params: { id }, body }), onSuccess: () => client.invalidateQueries({ queryKey: plantKey }) });
}

export function useSetSecondPerson() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof setSecondPerson>['body']) => call(setSecondPerson, { body }), onSuccess: () => client.invalidateQueries({ queryKey: plantKey }) });
}
