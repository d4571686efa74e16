import { useQuery } from '@tanstack/react-query';
import { listFeedTokens } from '#contract/feeds';
import { call } from '../shared/http.js';
import { plantKey } from '../shared/plant.queries.js';

export const useFeedTokens = () => useQuery({ queryKey: [...plantKey, 'feed-tokens'], queryFn: () => call(listFeedTokens, {}) });
