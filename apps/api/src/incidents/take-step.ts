import type { InputOf } from '#contract/endpoint';
import type { setIncidentDue, setIncidentWhys, takeIncidentBack, takeIncidentStep } from '#contract/incident-life';
import { incidentState } from '#contract/incident-shapes';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { lockFresh } from './change-incident.js';
import { causeMachineFaults, insertStep, setIncident, type StoredIncident } from './incidents.store.js';
import { dueFaults, previousState, requireStep } from './life.js';
import { isVerificationOf } from './verifications.store.js';

type Person = Actor & { userId: number };
type Step = InputOf<typeof takeIncidentStep>['body'];
type Change = Partial<Omit<StoredIncident, 'id' | 'revision'>>;

const dateOf = (moment: string | null): Date | null => (moment === null ? null : new Date(moment));

/** What the step writes, and the words that its line of the history carries. */
function changeOf(step: Step): { change: Change; comment: string } {
  switch (step.to) {
    case 'contained': return { change: { containment: step.containment }, comment: step.containment };
    case 'cause-found': return { change: { cause: step.cause, causeCategory: step.causeCategory, causeMachineId: step.causeMachineId }, comment: step.cause };
    case 'action-taken': return { change: { action: step.action }, comment: step.action };
    case 'effect-verified': return { change: { verificationId: step.verificationId, verdict: step.verdict }, comment: step.verdict };
  }
}

/** One step forward: what it needs is on record, and who took it, when, and when the next one is due. */
export async function takeStep(tx: Tx, actor: Person, id: number, step: Step, now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, step.revision);
  requireStep(stored.state, step.to);
  const errors = [...dueFaults(step.dueAt, now), ...(step.to === 'cause-found' ? await causeMachineFaults(tx, actor.plantId, step.causeMachineId) : [])];
  if (step.to === 'effect-verified' && !(await isVerificationOf(tx, actor.plantId, id, step.verificationId))) errors.push({ field: 'verificationId', expected: 'a comparison that is kept with this incident' });
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  const { change, comment } = changeOf(step);
  const after: Change = { ...change, state: step.to, dueAt: dateOf(step.dueAt) };
  await write(tx, actor, stored, after, now, { action: step.to, comment, evidence: step.evidence === '' ? undefined : step.evidence });
}

/** One step back. The verified effect no longer counts once it is stepped back from; its comparison stays kept. */
export async function takeBack(tx: Tx, actor: Person, id: number, { revision, reason, dueAt }: InputOf<typeof takeIncidentBack>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  const state = incidentState.parse(stored.state);
  if (state === 'closed') throw new Problem('wrong-state', 'The incident is closed: open it again first, with the reason.');
  const to = previousState(state, true);
  if (to === null) throw new Problem('wrong-state', 'The incident is at its first state: there is no step back.');
  const errors = dueFaults(dueAt, now);
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  await write(tx, actor, stored, { state: to, dueAt: dateOf(dueAt), ...(state === 'effect-verified' ? { verificationId: null, verdict: '' } : {}) }, now, { action: 'stepped-back', comment: reason });
}

export async function setDue(tx: Tx, actor: Person, id: number, { revision, dueAt, reason }: InputOf<typeof setIncidentDue>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state === 'closed') throw new Problem('wrong-state', 'The incident is closed: nothing is due.');
  const errors = dueFaults(dueAt, now);
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  await write(tx, actor, stored, { dueAt: dateOf(dueAt) }, now, { action: 'due-changed', comment: reason });
}

export async function setWhys(tx: Tx, actor: Person, id: number, { revision, whys }: InputOf<typeof setIncidentWhys>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state === 'closed') throw new Problem('wrong-state', 'The incident is closed: open it again first, with the reason.');
  await write(tx, actor, stored, { whys }, now, { action: 'whys-written', comment: null });
}

async function write(tx: Tx, actor: Person, stored: StoredIncident, after: Change, now: Date, { action, comment, evidence }: { action: string; comment: string | null; evidence?: string }): Promise<void> {
  await setIncident(tx, actor.plantId, stored.id, after, now);
  await insertStep(tx, actor, stored.id, action, now, comment, { state: after.state, evidence, dueAt: after.dueAt });
  const before = Object.fromEntries(Object.keys(after).map((key) => [key, stored[key as keyof StoredIncident]]));
  await record(tx, actor, `incident.${action}`, `incident ${stored.id}`, { before, after: { ...after, comment, evidence } });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: stored.id, change: action } }]);
}
