import { z } from 'zod';

/** Every refusal has a stable code; this is the one table from code to HTTP status and title (RFC 9457). */
export const problems = {
  'invalid-input': { status: 400, title: 'Something in the request is not as expected' },
  'not-signed-in': { status: 401, title: 'Sign in first' },
  'token-refused': { status: 401, title: 'The token is unknown, revoked or expired' },
  'wrong-credentials': { status: 401, title: 'Login name or password is wrong' },
  'not-allowed': { status: 403, title: 'Your role may not do this' },
  'session-locked': { status: 423, title: 'The session is locked: unlock it with your password' },
  'request-forgery': { status: 403, title: 'The request did not come from a page of this installation' },
  'not-found': { status: 404, title: 'There is no such thing here' },
  'already-there': { status: 409, title: 'It is already there' },
  'changed-meanwhile': { status: 409, title: 'Somebody changed it in the meantime' },
  'key-reused': { status: 409, title: 'The same idempotency key was sent with other content' },
  'wrong-state': { status: 409, title: 'That step is not possible in the present state' },
  'first-run-done': { status: 409, title: 'This installation already has an administrator' },
  'implausible-reading': { status: 422, title: 'A reading is outside what the gauge or the can allows' },
  'too-little-data': { status: 422, title: 'There are too few data for this' },
  'cannot-compute': { status: 422, title: 'The method cannot be computed from these numbers' },
  'not-readable': { status: 422, title: 'The file cannot be read as stated' },
  'too-large': { status: 413, title: 'That is too large' },
  'wrong-file-type': { status: 415, title: 'That kind of file is not taken' },
  'stopped': { status: 409, title: 'The computation was stopped' },
  'too-many-attempts': { status: 429, title: 'Too many attempts: wait and try again' },
  'too-many-requests': { status: 429, title: 'More requests than this token may send: wait as long as Retry-After says' },
  'internal': { status: 500, title: 'Something went wrong on our side' },
  'takes-too-long': { status: 503, title: 'The computation took longer than is allowed' },
  'busy': { status: 503, title: 'Too much is being computed at the moment: try again shortly' },
  'database-unavailable': { status: 503, title: 'The database does not answer at the moment' },
  'disk-full': { status: 507, title: 'The disk of the database is full' },
} as const;
export type ProblemCode = keyof typeof problems;
const codes = Object.keys(problems) as [ProblemCode, ...ProblemCode[]];

/** One thing that is wrong: which field (a path such as "cans.0.readings.weld-overlap.2"), which row of a file, what is expected. */
export const fieldError = z.object({
  field: z.string(),
  row: z.number().int().optional(),
  expected: z.string(),
});
export type FieldError = z.infer<typeof fieldError>;

export const problemDetails = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string().optional(),
  instance: z.string().optional(),
  code: z.enum(codes),
  errors: z.array(fieldError).optional(),
}).meta({ id: 'Problem' });
export type ProblemDetails = z.infer<typeof problemDetails>;

/** Thrown by inner code; only the problem filter knows HTTP. `detail` is a sentence for the person who asked. */
export class Problem extends Error {
  override readonly name = 'Problem';
  constructor(readonly code: ProblemCode, readonly detail?: string, readonly errors?: FieldError[]) {
    super(`${code}: ${detail ?? problems[code].title}`);
  }
}

export function problemBody(problem: Problem, instance?: string): ProblemDetails {
  const { status, title } = problems[problem.code];
  return { type: `/api/docs#problem-${problem.code}`, title, status, detail: problem.detail, instance, code: problem.code, errors: problem.errors };
}
