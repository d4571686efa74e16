import type { z } from 'zod';
import type { FieldError } from '#contract/problem';

/** zod's findings as field paths with what is expected there. */
export function fieldErrors(error: z.ZodError, prefix = ''): FieldError[] {
  return error.issues.slice(0, 50).map((issue) => ({ field: [prefix, ...issue.path.map(String)].filter(Boolean).join('.') || 'body', expected: issue.message }));
}
