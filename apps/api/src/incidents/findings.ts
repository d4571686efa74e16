import { findDefect, leakPlaces } from '#canmaking/defects/taxonomy';
import type { FieldError } from '#contract/problem';

export type Findings = { cansExamined: number; cansLeaking: number; leakPlace: string; defect: string };
export type LoggedFindings = Findings & { kind: 'complaint' | 'in-house'; cansComplained: number; madeAt: string; madeUntil?: string | null; receivedAt: string };

// Clocks of a browser and a server differ a little.
const CLOCK_SLACK_MS = 5 * 60_000;

/** What does not agree in the findings, field by field; empty when all does. */
export function findingsFaults(findings: Findings): FieldError[] {
  const errors: FieldError[] = [];
  if (findings.cansLeaking > findings.cansExamined) errors.push({ field: 'cansLeaking', expected: `no more than the ${findings.cansExamined} cans examined` });
  if (!leakPlaces.some((place) => place === findings.leakPlace)) errors.push({ field: 'leakPlace', expected: `one of: ${leakPlaces.join('; ')}` });
  if (!findDefect(findings.defect)) errors.push({ field: 'defect', expected: 'a code of the defect taxonomy' });
  return errors;
}

/** The same, and the order of events: made, then received, and not in the future. More cans may be examined than complained of: retained ones count. */
export function loggedFaults(logged: LoggedFindings, now: Date): FieldError[] {
  const errors = findingsFaults(logged);
  const [made, received] = [Date.parse(logged.madeAt), Date.parse(logged.receivedAt)];
  if (logged.kind === 'complaint' && logged.cansComplained === 0) errors.push({ field: 'cansComplained', expected: '1 or more cans in a complaint' });
  if (received > now.getTime() + CLOCK_SLACK_MS) errors.push({ field: 'receivedAt', expected: 'not in the future' });
  if (logged.madeUntil && Date.parse(logged.madeUntil) <= made) errors.push({ field: 'madeUntil', expected: 'after the time at which it was made first' });
  if (made > received) errors.push({ field: 'madeAt', expected: 'before the incident was received' });
  return errors;
}
