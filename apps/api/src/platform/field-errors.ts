import type { z } from 'zod';
import type { FieldError } from '#contract/problem';
import { expectedWords } from './expected-words.js';

/** A value as its contract wants it, or what does not fit, field by field in words. The fields begin with `prefix`. */
export function parseInput<Shape extends z.ZodType>(shape: Shape, value: unknown, prefix = ''): { data: z.infer<Shape>; errors: null } | { data: null; errors: FieldError[] } {
  const parsed = shape.safeParse(value, { error: expectedWords });
  return parsed.success ? { data: parsed.data, errors: null } : { data: null, errors: fieldErrors(parsed.error, prefix) };
}

/** zod's findings as field paths with what is expected there. */
export function fieldErrors(error: z.ZodError, prefix = ''): FieldError[] {
  return error.issues.slice(0, 50).map((issue) => ({ field: [prefix, ...issue.path.map(String)].filter(Boolean).join('.') || 'body', expected: issue.message }));
}
