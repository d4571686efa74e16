import { OfflineError, ProblemError } from '../shared/http.js';

/** Why to try again later; null where trying again would not help. */
export function laterBecause(error: unknown): 'offline' | 'sign-in' | 'busy' | null {
  if (error instanceof OfflineError) return 'offline';
  if (!(error instanceof ProblemError)) return null;
  const { code, status } = error.problem;
  if (code === 'not-signed-in' || code === 'request-forgery') return 'sign-in';
  return status >= 500 || status === 429 ? 'busy' : null;
}
