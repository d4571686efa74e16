import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { RequestOf } from '#contract/endpoint';
import { recordLineEvent } from '#contract/production';
import { call } from './http.js';

export type NewLineEvent = RequestOf<typeof recordLineEvent>['body'];


export function useRecordLineEvent() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: NewLineEvent) => call(recordLineEvent, { body }),
    onSuccess: () => Promise.all(['now', 'charts', 'signal'].map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
}
