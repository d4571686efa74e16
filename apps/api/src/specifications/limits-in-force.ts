import type { FrozenLimits } from './limits.store.js';

/** The limits that a subgroup of this time and formula is judged by: the last ones that began by then. None means "not judged". Limits of another formula version do not apply: the two numbers are not comparable. */
export function limitsInForce(limits: readonly FrozenLimits[], streamId: number, takenAt: Date, formula: string | null): FrozenLimits | null {
  let found: FrozenLimits | null = null;
  for (const candidate of limits) {
    if (candidate.streamId === streamId && candidate.effectiveFrom.getTime() <= takenAt.getTime()) found = candidate;
  }
  return found && found.formula === formula ? found : null;
}
