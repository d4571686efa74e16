import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { changeWebhook, createWebhook, endMyCalendar, endMyNotices, getLinksOut, getMyNotices, listDeliveries, listWebhooks, makeMyCalendar, type NoticeChoice, removeWebhook, resendDelivery, saveMyNotices, testWebhook } from '#contract/outgoing';
import { createKiosk, listKiosks, revokeKiosk } from '#contract/wall';
import { call } from '../shared/http.js';

const [WEBHOOKS, DELIVERIES, KIOSKS, MINE] = [['webhooks'], ['deliveries'], ['kiosks'], ['my-notices']] as const;
export const useWebhooks = () => useQuery({ queryKey: WEBHOOKS, queryFn: () => call(listWebhooks, {}) });
export const useLinksOut = () => useQuery({ queryKey: ['links-out'], queryFn: () => call(getLinksOut, {}), staleTime: Infinity });
export const useDeliveries = () => useQuery({ queryKey: DELIVERIES, queryFn: () => call(listDeliveries, { query: {} }) });
export const useKiosks = () => useQuery({ queryKey: KIOSKS, queryFn: () => call(listKiosks, {}) });
export const useMyNotices = () => useQuery({ queryKey: MINE, queryFn: () => call(getMyNotices, {}) });

/** An act after which these lists are asked again. */
function useAct<Given, Answer>(act: (given: Given) => Promise<Answer>, keys: readonly (readonly string[])[]) {
  const client = useQueryClient();
  return useMutation({ mutationFn: act, onSuccess: () => Promise.all(keys.map((queryKey) => client.invalidateQueries({ queryKey }))) });
}
export const useMakeWebhook = () => useAct((body: RequestOf<typeof createWebhook>['body']) => call(createWebhook, { body }), [WEBHOOKS]);
export const useChangeWebhook = () => useAct(({ id, ...body }: RequestOf<typeof changeWebhook>['body'] & { id: number }) => call(changeWebhook, { params: { id }, body }), [WEBHOOKS]);
export const useRemoveWebhook = () => useAct((id: number) => call(removeWebhook, { params: { id } }), [WEBHOOKS]);
export const useTestWebhook = () => useAct((id: number) => call(testWebhook, { params: { id } }), [WEBHOOKS, DELIVERIES]);
export const useResend = () => useAct((id: number) => call(resendDelivery, { params: { id } }), [DELIVERIES]);
export const useMakeKiosk = () => useAct((body: RequestOf<typeof createKiosk>['body']) => call(createKiosk, { body }), [KIOSKS]);
export const useRevokeKiosk = () => useAct((id: number) => call(revokeKiosk, { params: { id } }), [KIOSKS]);
export const useSaveMine = () => useAct((body: NoticeChoice) => call(saveMyNotices, { body }), [MINE]);
export const useEndMine = () => useAct(() => call(endMyNotices, {}), [MINE]);
export const useMakeCalendar = () => useAct(() => call(makeMyCalendar, {}), [MINE]);
export const useEndCalendar = () => useAct(() => call(endMyCalendar, {}), [MINE]);
