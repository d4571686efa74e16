import { type UseQueryResult, useQuery, useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useState } from 'react';
import type { AnswerOf } from '#contract/endpoint';
import { getRun } from '#contract/workbench/runs';
import { call } from '../../shared/http.js';
import { bodyKey } from './body-key.js';
import { AT_ONCE, makeTurns } from './turn.js';

const runs = new Map<string, string>();
const turn = makeTurns(AT_ONCE);

/** A UUID. Not crypto.randomUUID: browsers keep that from pages served without TLS, as in many plants. */
export function newRun(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const text = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${text.slice(0, 8)}-${text.slice(8, 12)}-${text.slice(12, 16)}-${text.slice(16, 20)}-${text.slice(20)}`;
}

export type Computation<Answer> = { query: UseQueryResult<Answer>; isStopped: boolean; stop: () => void; run: () => string | undefined };
export type Ask<Body, Answer> = (given: { body: Body; query: { run: string }; signal: AbortSignal }) => Promise<Answer>;

/** One computation of the Workbench API: asked once for one body, stopped when nobody waits for it any more. No body: not asked. */
export function useMethod<Body extends object, Answer>(path: string, body: Body | null, ask: Ask<Body, Answer>): Computation<Answer> {
  const client = useQueryClient();
  const key = `${path}#${body === null ? '' : bodyKey(body)}`;
  const query = useQuery({
    queryKey: ['workbench', key], enabled: body !== null, staleTime: Number.POSITIVE_INFINITY, gcTime: 120_000,
    queryFn: ({ signal }) => {
      if (body === null) throw new RangeError('nothing to compute');
      return turn(signal, () => {
        const run = newRun();
        runs.set(key, run);
        return ask({ body, query: { run }, signal }).finally(() => { if (runs.get(key) === run) runs.delete(key); });
      });
    },
  });
  const stop = useCallback(() => void client.cancelQueries({ queryKey: ['workbench', key] }), [client, key]);
  return { query, stop, run: () => runs.get(key), isStopped: body !== null && query.isPending && query.fetchStatus === 'idle' };
}

/** How far a computation is, asked once a second from its second second on: most are over before. A run that has ended is not found; then nothing more is known. */
export function useProgress(run: () => string | undefined, isRunning: boolean) {
  const [isLong, setLong] = useState(false);
  useEffect(() => {
    if (!isRunning) return undefined;
    const later = setTimeout(() => setLong(true), 1500);
    return () => { clearTimeout(later); setLong(false); };
  }, [isRunning]);
  const name = isLong ? run() : undefined;
  return useQuery<AnswerOf<typeof getRun>>({
    queryKey: ['workbench-run', name], enabled: name !== undefined, refetchInterval: (asked) => (asked.state.error ? false : 1000), retry: false, gcTime: 0,
    queryFn: ({ signal }) => call(getRun, { params: { run: name ?? '' }, signal }),
  });
}
