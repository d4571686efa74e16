import { type IncidentState, incidentState, incidentStates } from '#contract/incident-shapes';
import { type FieldError, Problem } from '#contract/problem';

const WORDS: Record<IncidentState, string> = { open: 'open', contained: 'contained', 'cause-found': 'cause found', 'action-taken': 'action taken', 'effect-verified': 'effect verified', closed: 'closed' };

export function nextState(state: IncidentState): IncidentState | null {
  return incidentStates[incidentStates.indexOf(state) + 1] ?? null;
}

/** One step back. A closed incident goes back to what it was closed from: with a verified effect or without one. */
export function previousState(state: IncidentState, verified: boolean): IncidentState | null {
  if (state === 'closed' && !verified) return 'action-taken';
  return incidentStates[incidentStates.indexOf(state) - 1] ?? null;
}

/** @throws Problem where the incident is not in the state before `to`: no step is left out, and none is taken twice */
export function requireStep(state: string, to: IncidentState): void {
  const now = incidentState.parse(state);
  if (nextState(now) === to) return;
  const next = nextState(now);
  throw new Problem('wrong-state', next === null ? 'The incident is closed: open it again first, with the reason.' : `The incident is ${WORDS[now]}; the next step is “${WORDS[next]}”.`);
}

type Needed = { containment: string; cause: string; action: string; causeCategory: string | null };
const NEEDED: readonly [from: IncidentState, field: keyof Needed, expected: string][] = [
  ['contained', 'containment', 'what is held back, and where'], ['cause-found', 'cause', 'the cause'], ['cause-found', 'causeCategory', 'the kind of cause'], ['action-taken', 'action', 'what was done'],
];

/** What the state that was reached rests on may be put better, but not taken away. `before` had it: rows from an older version may lack some. */
export function emptiedFields(state: string, before: Needed, after: Needed): FieldError[] {
  const reached = incidentStates.indexOf(incidentState.parse(state));
  const empty = (value: string | null) => value === null || value.trim() === '';
  return NEEDED.filter(([from, field]) => incidentStates.indexOf(from) <= reached && !empty(before[field]) && empty(after[field])).map(([, field, expected]) => ({ field, expected }));
}

/** A date in the past can never be met. */
export function dueFaults(dueAt: string | null, now: Date): FieldError[] {
  return dueAt !== null && new Date(dueAt) <= now ? [{ field: 'dueAt', expected: 'a moment in the future, or none' }] : [];
}
