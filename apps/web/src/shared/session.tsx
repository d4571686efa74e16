import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { createContext, useContext } from 'react';
import type { Role } from '#contract/roles';
import { getSession, type Person, type SessionView, signOut } from '#contract/users';
import { call, rememberCsrf } from './http.js';

export const sessionKey = ['session'] as const;

export async function fetchSession(): Promise<SessionView> {
  const session = await call(getSession, {});
  rememberCsrf(session.csrf);
  return session;
}

export const useSessionQuery = () => useQuery({ queryKey: sessionKey, queryFn: fetchSession, staleTime: 60_000 });

export function useSignOut() {
  const client = useQueryClient();
  return useMutation({ mutationFn: () => call(signOut, {}), onSettled: () => { rememberCsrf(null); client.clear(); window.location.assign('/'); } });
}

/** Filled by the frame: below it somebody is signed in. */
export const SessionContext = createContext<SessionView | null>(null);

export function useSession(): SessionView & { person: Person; plant: NonNullable<SessionView['plant']> } {
  const session = useContext(SessionContext);
  if (!session?.person || !session.plant) throw new Error('useSession is for pages inside the frame');
  return { ...session, person: session.person, plant: session.plant };
}
export const usePerson = (): Person => useSession().person;
/** True when the signed-in person's role is one of these; the server checks again. */
export const useMay = (roles: readonly Role[]): boolean => roles.includes(usePerson().role);
