import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { lockSession, noteActivity } from '#contract/sessions';
import type { SessionView } from '#contract/users';
import { call, holdRequests, releaseRequests, whenLocked } from './http.js';
import { sessionKey } from './session.js';

const LOOK_MS = 5000;
const INPUTS = ['pointerdown', 'keydown', 'wheel', 'touchstart'] as const;
/** Pages of one browser share a session: what is done in one keeps the others open. */
const SHARED = 'seamledger-last-done';

function lastShared(): number {
  try { return Number(localStorage.getItem(SHARED)) || 0; } catch { return 0; }
}
function share(at: number): void {
  try { localStorage.setItem(SHARED, String(at)); } catch { /* private windows may keep nothing: each page then counts for itself */ }
}

/** Tells the server that somebody is there, and locks the session when nobody was for as long as the plant sets. */
export function useSessionLock(session: SessionView | undefined): void {
  const client = useQueryClient();
  const [isIn, locked, idleMs] = [session?.person != null, session?.locked === true, (session?.idleMinutes ?? 15) * 60_000];
  useEffect(() => whenLocked(() => client.setQueryData<SessionView>(sessionKey, (now) => (now ? { ...now, locked: true } : now))), [client]);
  useEffect(() => {
    if (locked) holdRequests(); else releaseRequests();
  }, [locked]);
  useEffect(() => {
    if (!isIn || locked) return undefined;
    const tellEvery = Math.min(60_000, idleMs / 3);
    let [last, told] = [Date.now(), 0];
    const done = () => { last = Date.now(); };
    for (const input of INPUTS) window.addEventListener(input, done, { passive: true, capture: true });
    const look = setInterval(() => {
      const now = Date.now();
      if (now - Math.max(last, lastShared()) >= idleMs) {
        // Shown as locked at once; where the server is not reached, it locks by its own clock.
        client.setQueryData<SessionView>(sessionKey, (view) => (view ? { ...view, locked: true } : view));
        void call(lockSession, {}).catch(() => undefined);
      } else if (last > told && now - told >= tellEvery) {
        told = now;
        share(last);
        void call(noteActivity, {}).catch(() => undefined);
      }
    }, LOOK_MS);
    return () => {
      for (const input of INPUTS) window.removeEventListener(input, done, { capture: true });
      clearInterval(look);
    };
  }, [client, isIn, locked, idleMs]);
}
