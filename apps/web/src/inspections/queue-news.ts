const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('seamledger.queue');
const listeners = new Set<() => void>();
channel?.addEventListener('message', () => { for (const listener of listeners) listener(); });

/** Says that something on its way from this browser changed. */
export function tellQueue(): void {
  for (const listener of listeners) listener();
  channel?.postMessage('changed');
}
/** Calls back when the queue changed, here or in another window of this browser. */
export function onQueueChange(listener: () => void): () => void {
  listeners.add(listener);
  return () => { listeners.delete(listener); };
}
