import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { createContext, useContext } from 'react';
import type { Role } from '#contract/roles';
import { getSession, type Person, type SessionView, sessionView, signOut } from '#contract/users';
import { call, OfflineError, rememberCsrf } from './http.js';
import { forgetAnswers, keepAnswer, keptAnswer } from './offline-answers.js';

export const sessionKey = ['session'] as const;

const KEPT = 'session';

/** Who is signed in, as the server says; while it is not reached, who was signed in here last. Such a session reads what is kept and changes nothing. */
export async function fetchSession(): Promise<SessionView> {
  try {
    const session = await askSession();
    if (session.person) await keepSession(session);
    else await forgetAnswers();
    return session;
  } catch (error) {
    const kept = error instanceof OfflineError ? await keptAnswer(KEPT, sessionView) : null;
    if (!kept) throw error;
    return kept;
  }
}

/** The server's word alone. */
export async function askSession(): Promise<SessionView> {
  const session = await call(getSession, {});
  rememberCsrf(session.csrf);
  if (!session.person) setWantsOut(false);
  if (!wantsOut()) return session;
  await call(signOut, {});
  setWantsOut(false);
  return askSession();
}

// Who signs out without the network means it: the server hears of it before anybody sees a page again.
const WANTS_OUT = 'seamledger.sign-out';
function wantsOut(): boolean {
  try { return localStorage.getItem(WANTS_OUT) !== null; } catch { return false; }
}
function setWantsOut(wanted: boolean): void {
  try { if (wanted) localStorage.setItem(WANTS_OUT, ''); else localStorage.removeItem(WANTS_OUT); } catch { /* Storage that is switched off keeps no session for the time without a network either. */ }
}

/** Somebody is in. Kept without the token that changes need: that one is asked for anew. */
export function keepSession(session: SessionView): Promise<void> {
  setWantsOut(false);
  return keepAnswer(KEPT, { ...session, csrf: null });
}

export const useSessionQuery = () => useQuery({ queryKey: sessionKey, queryFn: fetchSession, staleTime: 60_000 });

export function useSignOut() {
  const client = useQueryClient();
  return useMutation({ mutationFn: () => call(signOut, {}), networkMode: 'always', onError: (error) => { if (error instanceof OfflineError) setWantsOut(true); }, onSettled: async () => { rememberCsrf(null); client.clear(); await forgetAnswers(); window.location.assign('/'); } });
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
