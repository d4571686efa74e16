import { ProblemError } from '../shared/http.js';

/** What the server expects in a field that it refused, to be said beside the field. */
export function expectedOf(error: unknown, field: string): string | undefined {
  return error instanceof ProblemError ? error.problem.errors?.find((entry) => entry.field === field)?.expected : undefined;
}
