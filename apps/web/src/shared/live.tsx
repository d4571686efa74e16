import { type QueryClient, useQueryClient } from '@tanstack/react-query';
import { useEffect, useSyncExternalStore } from 'react';
import { getLive } from '#contract/platform';

/** Which cached answers are old after news of a kind, by the first part of their key. */
const STALE: Record<string, readonly string[]> = {
  stream: ['now', 'due-checks', 'charts', 'streams', 'signals', 'signal', 'checks', 'trace'], signal: ['now', 'signals', 'signal', 'charts', 'streams', 'trace'], incident: ['now', 'incidents', 'incident', 'signal', 'trace'],
  hold: ['now', 'holds', 'hold'], webhook: ['webhooks'], delivery: ['deliveries'], kiosk: ['kiosks'],
};
/** A batch of checks is a burst of news: the pages ask once for all of it. */
const GATHER_MS = 400;
/** Without events, pages ask so often; a connection that was refused is tried again as often. */
const POLL_MS = 10_000;

export type Connection = 'connecting' | 'open' | 'lost';
let connection: { state: Connection; since: number } = { state: 'connecting', since: Date.now() };
const watchers = new Set<() => void>();
function changeTo(state: Connection): void {
  if (connection.state === state) return;
  connection = { state, since: Date.now() };
  for (const tell of watchers) tell();
}
const watch = (tell: () => void) => { watchers.add(tell); return () => { watchers.delete(tell); }; };
/** Whether news arrive, and since when (epoch ms). */
export const useConnection = () => useSyncExternalStore(watch, () => connection);

/** Gathers what is old and lets the open pages ask again for it, once in a while. */
function makeStale(client: QueryClient) {
  const stale = new Set<string>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const say = (names: readonly string[]) => {
    for (const name of names) stale.add(name);
    timer ??= setTimeout(() => {
      timer = undefined;
      const now = new Set(stale);
      stale.clear();
      void client.invalidateQueries({ predicate: ({ queryKey }) => typeof queryKey[0] === 'string' && now.has(queryKey[0]) });
    }, GATHER_MS);
  };
  return { say, stop: () => clearTimeout(timer) };
}

/**
 * Listens to news and returns what ends it. The browser connects anew by itself and says where it stood; a connection
 * that it gave up is opened again, and while there is none the pages ask by the clock.
 */
export function listenLive(client: QueryClient, path: string, events: Readonly<Record<string, readonly string[]>>): () => void {
  const { say, stop } = makeStale(client);
  const all = [...new Set(Object.values(events).flat())];
  let source: EventSource | undefined;
  const connect = () => {
    if (typeof EventSource === 'undefined') return changeTo('lost');
    source?.close();
    source = new EventSource(path);
    source.addEventListener('open', () => {
      // What was asked for while there was no connection has failed, and the stream goes on where it stood: nobody else asks again.
      if (connection.state === 'lost') say(all);
      changeTo('open');
    });
    source.addEventListener('error', () => changeTo('lost'));
    // What the pages fetched before the stream began may be older than its beginning.
    source.addEventListener('hello', () => say(all));
    source.addEventListener('ask-again', () => say(all));
    for (const [kind, names] of Object.entries(events)) source.addEventListener(kind, () => say(names));
  };
  connect();
  const poll = setInterval(() => {
    if (source && source.readyState === EventSource.OPEN) return;
    say(all);
    if (source?.readyState === EventSource.CLOSED) connect();
  }, POLL_MS);
  return () => { source?.close(); clearInterval(poll); stop(); };
}

/** For the frame: one connection for all pages. */
export function LiveNews() {
  const client = useQueryClient();
  useEffect(() => listenLive(client, getLive.path, STALE), [client]);
  return null;
}
