import { useMutation, useQueryClient } from '@tanstack/react-query';
import { changePassword, firstRun, signIn } from '#contract/users';
import type { RequestOf } from '#contract/endpoint';
import { call, rememberCsrf } from '../shared/http.js';
import { keepSession, sessionKey } from '../shared/session.js';

/** Both answers are the new session: the frame shows the screens as soon as it is remembered. */
export function useSignIn() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof signIn>['body']) => call(signIn, { body }), onSuccess: async (session) => { rememberCsrf(session.csrf); await keepSession(session); client.setQueryData(sessionKey, session); } });
}

export function useFirstRun() {
  const client = useQueryClient();
  return useMutation({ mutationFn: (body: RequestOf<typeof firstRun>['body']) => call(firstRun, { body }), onSuccess: async (session) => { rememberCsrf(session.csrf); await keepSession(session); client.setQueryData(sessionKey, session); } });
}

export const useChangePassword = () => useMutation({ mutationFn: (body: RequestOf<typeof changePassword>['body']) => call(changePassword, { body }) });
