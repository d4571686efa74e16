import type { z } from 'zod';
import type { AnswerOf, Endpoint, RequestOf } from '#contract/endpoint';
import { type ProblemDetails, problemDetails } from '#contract/problem';
import { noteReached } from './network.js';

/** A refusal of the server, or what a broken connection looks like to a person. */
export class ProblemError extends Error {
  override readonly name = 'ProblemError';
  constructor(readonly problem: ProblemDetails) {
    super(problem.detail ?? problem.title);
  }
}
/** The server was not reached: nothing is known about the request. */
export class OfflineError extends Error {
  override readonly name = 'OfflineError';
}

let csrf: string | null = null;
/** The session's token, sent back with every change. */
export function rememberCsrf(token: string | null): void {
  csrf = token;
}

type Parts<E> = { [Part in keyof RequestOf<E> as undefined extends RequestOf<E>[Part] ? never : Part]: RequestOf<E>[Part] };
type Call<E> = Parts<E> & { signal?: AbortSignal };
type AnyEndpoint = Endpoint<z.ZodType, z.ZodType, z.ZodType, z.ZodType>;

/** The address of a request, for links and downloads. */
export function address(endpoint: AnyEndpoint, given: { params?: unknown; query?: unknown } = {}): string {
  const params = (given.params ?? {}) as Record<string, unknown>;
  const path = endpoint.path.replace(/:([A-Za-z]+)/g, (_whole, name: string) => encodeURIComponent(String(params[name])));
  const pairs = Object.entries((given.query ?? {}) as Record<string, unknown>)
    .flatMap(([key, value]) => (Array.isArray(value) ? value.map((one) => [key, String(one)] as [string, string]) : value === undefined || value === null ? [] : [[key, String(value)] as [string, string]]));
  return pairs.length > 0 ? `${path}?${new URLSearchParams(pairs)}` : path;
}

let held: { released: Promise<void>; release: () => void } | null = null;
let tellLocked = () => {};
/** While the session is locked requests wait, and go out once it is open again: no page loses what it shows or holds. */
export function holdRequests(): void {
  if (held) return;
  let release = () => {};
  const released = new Promise<void>((resolve) => { release = resolve; });
  held = { released, release };
}
export function releaseRequests(): void {
  held?.release();
  held = null;
}
/** Hears when the server says that the session is locked; answers how to stop. */
export function whenLocked(hear: () => void): () => void {
  tellLocked = hear;
  return () => { tellLocked = () => {}; };
}

/** How often a request that met a locked session is sent again after unlocking. */
const TIMES = 10;

export async function send(endpoint: AnyEndpoint, url: string, init: RequestInit): Promise<unknown> {
  const waits = endpoint.access !== 'public' && !endpoint.whileLocked;
  for (let time = 1; ; time += 1) {
    if (waits) await held?.released;
    try {
      return await sendOnce(endpoint, url, init);
    } catch (error) {
      if (!waits || time >= TIMES || !(error instanceof ProblemError) || error.problem.code !== 'session-locked') throw error;
      // The server refused it before anything was done: it can be sent again.
      holdRequests();
      tellLocked();
    }
  }
}

async function sendOnce(endpoint: AnyEndpoint, url: string, init: RequestInit): Promise<unknown> {
  let response: Response;
  try {
    response = await fetch(url, { ...init, method: endpoint.method, credentials: 'same-origin', headers: { accept: 'application/json', ...(csrf && endpoint.method !== 'GET' ? { 'x-csrf-token': csrf } : {}), ...init.headers } });
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    noteReached(false);
    throw new OfflineError('The server was not reached.');
  }
  noteReached(true);
  const body: unknown = response.headers.get('content-type')?.includes('json') ? await response.json() : await response.text();
  if (response.ok) return body;
  const problem = problemDetails.safeParse(body);
  throw new ProblemError(problem.success ? problem.data : { type: 'about:blank', title: response.statusText || 'Error', status: response.status, code: 'internal' });
}

/** Calls an endpoint of the contract; the answer is parsed before anything else sees it. */
export async function call<E extends AnyEndpoint>(endpoint: E, given: Call<E>): Promise<AnswerOf<E>> {
  const { params, query, body, signal } = given as { params?: unknown; query?: unknown; body?: unknown; signal?: AbortSignal };
  const answer = await send(endpoint, address(endpoint, { params, query }), { signal, ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }) });
  return endpoint.answer.parse(answer) as AnswerOf<E>;
}

/** The same for files. */
export async function upload<E extends AnyEndpoint>(endpoint: E, given: { params?: unknown; query?: unknown; form: FormData }): Promise<AnswerOf<E>> {
  const answer = await send(endpoint, address(endpoint, given), { body: given.form });
  return endpoint.answer.parse(answer) as AnswerOf<E>;
}
