import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { cancelPackJob, getPack, getReadiness, listPackChoices, listPacks, listPackTemplates, makePack, type PackTemplateView, setPackTemplate } from '#contract/packs';
import { listStudies } from '#contract/studies';
import { call } from '../shared/http.js';

const POLL_MS = 1500;
export const usePackChoices = () => useQuery({ queryKey: ['packs', 'choices'], queryFn: ({ signal }) => call(listPackChoices, { signal }) });
export const useKeptStudies = () => useQuery({ queryKey: ['packs', 'studies'], queryFn: ({ signal }) => call(listStudies, { query: {}, signal }) });
export const usePack = (id: number) => useQuery({ queryKey: ['packs', 'one', id], queryFn: ({ signal }) => call(getPack, { params: { id }, signal }) });
export const usePackTemplates = () => useQuery({ queryKey: ['packs', 'templates'], queryFn: ({ signal }) => call(listPackTemplates, { signal }) });

/** Asks again while something is being made. */
export const usePacks = () => useQuery({
  queryKey: ['packs', 'list'], queryFn: ({ signal }) => call(listPacks, { signal }),
  refetchInterval: ({ state }) => (state.data?.jobs.some((job) => job.state === 'waiting' || job.state === 'running') ? POLL_MS : false),
});

export type Readiness = { customer: string; products: string; studies: string; from: string; to: string };
export const useReadiness = (asked: Readiness | null) => useQuery({
  queryKey: ['packs', 'readiness', asked], queryFn: ({ signal }) => call(getReadiness, { query: asked as Readiness, signal }), enabled: asked !== null, placeholderData: keepPreviousData, retry: false,
});

export function useMakePack() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: { customer: string; title: string; products: number[]; studies: number[]; from: string; to: string }) => call(makePack, { body }),
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
    mutationFn: (body: PackTemplateView & { customer: string; reason: string }) => call(setPackTemplate, { body }),
    onSuccess: () => client.invalidateQueries({ queryKey: ['packs'] }),
  });
}
