import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { getLive } from '#contract/platform';

/** Which cached answers are old after news of a kind, by the first part of their key. */
const STALE: Record<'stream' | 'signal' | 'incident' | 'hold', readonly string[]> = {
  stream: ['now', 'charts', 'streams', 'signals', 'signal', 'checks', 'trace'], signal: ['now', 'signals', 'signal', 'charts', 'streams', 'trace'], incident: ['now', 'incidents', 'incident', 'signal', 'trace'],
  hold: ['now', 'holds', 'hold'],
};
/** A batch of checks is a burst of news: the pages ask once for all of it. */
const GATHER_MS = 400;

/** Listens to the server's news and lets open pages ask again for what changed. The browser connects anew by itself. */
export function useLive(): void {
  const client = useQueryClient();
  useEffect(() => {
    const source = new EventSource(getLive.path);
    const stale = new Set<string>();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const hear = (names: readonly string[]) => () => {
      for (const name of names) stale.add(name);
      timer ??= setTimeout(() => {
        timer = undefined;
        const names = new Set(stale);
        stale.clear();
        void client.invalidateQueries({ predicate: ({ queryKey }) => typeof queryKey[0] === 'string' && names.has(queryKey[0]) });
      }, GATHER_MS);
    };
    for (const [kind, names] of Object.entries(STALE)) source.addEventListener(kind, hear(names));
    return () => { source.close(); clearTimeout(timer); };
  }, [client]);
}

/** For the frame: one connection for all pages. */
export function LiveNews() {
  useLive();
  return null;
}
