import type { z } from 'zod';
import type { ProblemCode } from './problem.js';
import type { FeedScope, Role } from './roles.js';

type Shape = z.ZodType;

/**
 * One HTTP endpoint, stated once: the server routes, checks and documents from it, the web client calls by it.
 * `access` is "public", "wall" (the token of a wall screen and nobody else), or the roles that may use it: there is no default, an endpoint without it does not compile.
 */
export type Endpoint<Params extends Shape = Shape, Query extends Shape = Shape, Body extends Shape = Shape, Answer extends Shape = Shape> = {
  method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** Begins with /api; parameters as :name. */
  path: string;
  feature: string;
  summary: string;
  description?: string;
  access: 'public' | 'wall' | readonly Role[];
  /** The scope by which a token (Authorization: Bearer) may use it; without one no token is taken. */
  feed?: FeedScope;
  params?: Params;
  query?: Query;
  body?: Body;
  /** "multipart" bodies are read by the handler; `body` then documents the fields. */
  bodyType?: 'json' | 'multipart';
  answer: Answer;
  /** What the answer is when it is not JSON: "text/csv", "image/*", "text/event-stream". */
  answerType?: string;
  status?: 200 | 201 | 202 | 204;
  problems?: readonly ProblemCode[];
};

export function endpoint<Answer extends Shape, Params extends Shape = z.ZodUndefined, Query extends Shape = z.ZodUndefined, Body extends Shape = z.ZodUndefined>(
  definition: Endpoint<Params, Query, Body, Answer>,
): Endpoint<Params, Query, Body, Answer> {
  return definition;
}

/** What the handler gets, parsed. */
export type InputOf<E> = E extends Endpoint<infer Params, infer Query, infer Body, Shape>
  ? { params: z.output<Params>; query: z.output<Query>; body: z.output<Body> }
  : never;
/** What the caller gives. */
export type RequestOf<E> = E extends Endpoint<infer Params, infer Query, infer Body, Shape>
  ? { params: z.input<Params>; query: z.input<Query>; body: z.input<Body> }
  : never;
export type AnswerOf<E> = E extends Endpoint<Shape, Shape, Shape, infer Answer> ? z.output<Answer> : never;
