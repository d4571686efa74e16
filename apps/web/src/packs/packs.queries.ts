import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { cancelPackJob, getPack, getReadiness, listPackChoices, listPacks, listPackTemplates, makePack, setPackTemplate } from '#contract/packs';
import { call } from '../shared/http.js';

const POLL_MS = 1500;
export const usePackChoices = () => useQuery({ queryKey: ['packs', 'choices'], queryFn: ({ signal }) => call(listPackChoices, { signal }) });
export const usePack = (id: number) => useQuery({ queryKey: ['packs', 'one', id], queryFn: ({ signal }) => call(getPack, { params: { id }, signal }) });
export const usePackTemplates = () => useQuery({ queryKey: ['packs', 'templates'], queryFn: ({ signal }) => call(listPackTemplates, { signal }) });

/** Asks again while something is being made. */
export const usePacks = () => useQuery({
  queryKey: ['packs', 'list'], queryFn: ({ signal }) => call(listPacks, { signal }),
  refetchInterval: ({ state }) => (state.data?.jobs.some((job) => job.state === 'waiting' || job.state === 'running') ? POLL_MS : false),
});

export const useReadiness = (query: RequestOf<typeof getReadiness>['query']) => useQuery({ queryKey: ['packs', 'readiness', query], queryFn: ({ signal }) => call(getReadiness, { query, signal }), placeholderData: keepPreviousData, retry: false });

export function useMakePack() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: RequestOf<typeof makePack>['body']) => call(makePack, { body }),
    onSuccess: () => client.invalidateQueries({ queryKey: ['packs', 'list'] }),
  });
}
export function useStopJob() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (id: number) => call(cancelPackJob, { params: { id } }), onSettled: () => client.invalidateQueries({ queryKey: ['packs', 'list'] }) });
}
export function useSetTemplate() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: RequestOf<typeof setPackTemplate>['body']) => call(setPackTemplate, { body }),
    onSuccess: () => client.invalidateQueries({ queryKey: ['packs'] }),
  });
}
