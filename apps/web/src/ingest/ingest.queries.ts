import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { continueImport, getImport, type Layout, listImports, lookAtImport, type Mapping, previewImport, startImport, stopImport, undoImport, uploadImport } from '#contract/ingest';
import { call, upload } from '../shared/http.js';

const key = ['imports'] as const;
/** Asked again while one of them runs. */
export const useImports = () => useQuery({ queryKey: key, queryFn: () => call(listImports, {}), refetchInterval: (query) => (query.state.data?.some((row) => row.state === 'running') ? 2000 : false) });
/** Asked again every half second while it runs. */
export const useImport = (id: number | undefined) => useQuery({ queryKey: [...key, id], queryFn: () => call(getImport, { params: { id: id ?? 0 } }), enabled: id !== undefined, refetchInterval: (query) => (query.state.data?.state === 'running' ? 500 : false) });

export const useUpload = () => useMutation({ mutationFn: (file: File) => { const form = new FormData(); form.append('file', file); return upload(uploadImport, { form }); } });
export const useLook = () => useMutation({ mutationFn: ({ id, layout }: { id: number; layout: Layout }) => call(lookAtImport, { params: { id }, body: { layout } }) });
export const usePreview = () => useMutation({ mutationFn: ({ id, ...body }: { id: number; layout: Layout; mapping: Mapping }) => call(previewImport, { params: { id }, body }) });

export function useImportActs() {
  const client = useQueryClient();
  const onSuccess = () => client.invalidateQueries({ queryKey: key });
  return {
    start: useMutation({ mutationFn: ({ id, ...body }: { id: number; layout: Layout; mapping: Mapping }) => call(startImport, { params: { id }, body }), onSuccess }),
    stop: useMutation({ mutationFn: (id: number) => call(stopImport, { params: { id }, body: {} }), onSuccess }),
    go: useMutation({ mutationFn: (id: number) => call(continueImport, { params: { id }, body: {} }), onSuccess }),
    undo: useMutation({ mutationFn: ({ id, reason }: { id: number; reason: string }) => call(undoImport, { params: { id }, body: { reason } }), onSuccess }),
  };
}
