import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { getWall, getWallLive, openWall } from '#contract/wall';
import { call } from '../shared/http.js';
import { listenLive } from '../shared/live.js';

const REFETCH_MS = 30_000;

/** The token comes once, behind the # of the address, where no server and no log sees it; then the cookie stands for it. */
async function takeToken(): Promise<void> {
  const token = new URLSearchParams(window.location.hash.slice(1)).get('token');
  if (!token) return;
  await call(openWall, { body: { token } });
  window.history.replaceState(null, '', window.location.pathname);
}

export function useWall() {
  return useQuery({
    queryKey: ['wall'], refetchInterval: REFETCH_MS, refetchIntervalInBackground: true,
    queryFn: async ({ signal }) => { await takeToken(); return call(getWall, { signal }); },
  });
}

export function useWallNews(ready: boolean): void {
  const client = useQueryClient();
  useEffect(() => (ready ? listenLive(client, getWallLive.path, { board: ['wall'] }) : undefined), [client, ready]);
}
