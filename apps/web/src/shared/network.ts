import { useSyncExternalStore } from 'react';

// Whether the server was reached the last time it was asked. The browser's own word covers the cable only: a server that is down is away, too.
let reached = true;
const listeners = new Set<() => void>();

export function noteReached(now: boolean): void {
  if (now === reached) return;
  reached = now;
  for (const listener of listeners) listener();
}
export const isReached = (): boolean => reached && navigator.onLine;

/** Calls back whenever the server may have come or gone; answers how to stop that. */
export function onNetworkChange(listener: () => void): () => void {
  listeners.add(listener);
  window.addEventListener('online', listener);
  window.addEventListener('offline', listener);
  return () => { listeners.delete(listener); window.removeEventListener('online', listener); window.removeEventListener('offline', listener); };
}
export const useReached = (): boolean => useSyncExternalStore(onNetworkChange, isReached);
