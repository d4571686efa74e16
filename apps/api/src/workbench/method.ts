import type { z } from 'zod';
import type { Endpoint } from '#contract/endpoint';
import { expectedWords } from '../platform/expected-words.js';

/** Says how far a computation is, 0 to 1; cheap, may be called often. */
export type Progress = (share: number) => void;
/** An endpoint and the pure function behind it, as the worker knows them. */
export type Method = { readonly endpoint: Endpoint; compute(body: unknown, progress: Progress): unknown };

/**
 * Binds a method of the Workbench to its computation, which runs in a worker thread.
 * The body is parsed by the contract before `compute` sees it; a RangeError of the statistics becomes the problem
 * "cannot-compute" with its sentence.
 */
export function computes<Params extends z.ZodType, Query extends z.ZodType, Body extends z.ZodType, Answer extends z.ZodType>(
  endpoint: Endpoint<Params, Query, Body, Answer>, compute: (body: z.output<Body>, progress: Progress) => z.input<Answer>,
): Method {
  const { body: shape } = endpoint;
  if (!shape) throw new Error(`${endpoint.path} has no body`);
  return { endpoint, compute: (body, progress) => compute(shape.parse(body, { error: expectedWords }), progress) };
}
