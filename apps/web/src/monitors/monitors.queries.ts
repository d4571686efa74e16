import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { changeFeed, changeFeedTopic, discardQuarantine, listFeeds, listQuarantine, makeFeed, makeFeedTopic, removeFeedTopic, replayQuarantine, setBodyRetention } from '#contract/monitors';
import { call } from '../shared/http.js';

/** The state of a connection is looked at again by itself: a person waits for it to come up. */
const LOOK_AGAIN_MS = 3000;

export const useFeeds = () => useQuery({ queryKey: ['monitors'], queryFn: ({ signal }) => call(listFeeds, { signal }), refetchInterval: LOOK_AGAIN_MS });
export const useQuarantine = (id: number) => useQuery({ queryKey: ['monitors', id, 'quarantine'], queryFn: ({ signal }) => call(listQuarantine, { params: { id }, query: { state: 'waiting' }, signal }), refetchInterval: LOOK_AGAIN_MS });

function useChange<Given>(change: (given: Given) => Promise<unknown>) {
  const client = useQueryClient();
  return useMutation({ mutationFn: change, onSuccess: () => client.invalidateQueries({ queryKey: ['monitors'] }) });
}
type BrokerBody = RequestOf<typeof makeFeed>['body'];
export type TopicBody = RequestOf<typeof makeFeedTopic>['body'];
export const useSaveBroker = () => useChange(({ id, revision, body }: { id?: number; revision?: number; body: BrokerBody }) => (id === undefined ? call(makeFeed, { body }) : call(changeFeed, { params: { id }, body: { ...body, revision: revision ?? 0 } })));
export const useSaveTopic = (id: number) => useChange(({ topicId, body }: { topicId?: number; body: TopicBody }) => (topicId === undefined ? call(makeFeedTopic, { params: { id }, body }) : call(changeFeedTopic, { params: { id, topicId }, body })));
export const useRemoveTopic = (id: number) => useChange((topicId: number) => call(removeFeedTopic, { params: { id, topicId } }));
export const useReplay = (id: number) => useChange((body: RequestOf<typeof replayQuarantine>['body']) => call(replayQuarantine, { params: { id }, body }));
export const useDiscard = (id: number) => useChange((body: RequestOf<typeof discardQuarantine>['body']) => call(discardQuarantine, { params: { id }, body }));
export const useKeepDays = () => useChange((keepDays: number | null) => call(setBodyRetention, { body: { keepDays } }));
