import type { InputOf } from '#contract/endpoint';
import type { changeIncident as changeContract, closeIncident as closeContract, reopenIncident as reopenContract } from '#contract/incidents';
import { incidentState } from '#contract/incident-shapes';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { findingsFaults } from './findings.js';
import { emptiedFields, nextState, previousState } from './life.js';
import { causeMachineFaults, type IncidentTexts, insertStep, lockIncident, setIncident, type StoredIncident } from './incidents.store.js';

type Person = Actor & { userId: number };

/** Writes containment, cause, action or corrected findings of an incident that is not closed; what stays the same is not written. */
export async function changeIncident(tx: Tx, actor: Person, id: number, { revision, ...wished }: InputOf<typeof changeContract>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state === 'closed') throw new Problem('wrong-state', 'The incident is closed: open it again first, with the reason.');
  const fields = ['containment', 'cause', 'action', 'cansExamined', 'cansLeaking', 'leakPlace', 'defect', 'causeCategory', 'causeMachineId'] as const;
  const changed = fields.filter((field) => wished[field] !== undefined && wished[field] !== stored[field]);
  if (changed.length === 0) return;
  const after: IncidentTexts = { ...pick(stored, fields), ...wished };
  const errors = [...findingsFaults(after), ...emptiedFields(stored.state, stored, after), ...(await causeMachineFaults(tx, actor.plantId, after.causeMachineId))];
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  await setIncident(tx, actor.plantId, id, pick(after, changed), now);
  await insertStep(tx, actor, id, 'changed', now, changed.join(', '));
  await record(tx, actor, 'incident.changed', `incident ${id}`, { before: pick(stored, changed), after: pick(after, changed) });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'changed' } }]);
}

/** Closes an incident whose effect is verified, or without that for the reason that the person gives. Disposition of product is decided elsewhere, by people. */
export async function closeIncident(tx: Tx, actor: Person, id: number, { revision, closingNote, withoutVerification }: InputOf<typeof closeContract>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state === 'closed') throw new Problem('wrong-state', 'The incident is closed already.');
  if (stored.state !== 'effect-verified' && stored.state !== 'action-taken') throw new Problem('wrong-state', `Before it can be closed, containment, cause and action are taken as steps; the next one is “${nextState(incidentState.parse(stored.state))}”.`, [{ field: 'state', expected: 'effect-verified, or action-taken with the reason for closing without' }]);
  if (stored.state === 'action-taken' && withoutVerification === '') throw new Problem('wrong-state', 'No effect is verified yet.', [{ field: 'withoutVerification', expected: 'why it is closed without a verified effect, or the step “effect verified” first' }]);
  const closedWithout = stored.state === 'effect-verified' ? '' : withoutVerification;
  await setIncident(tx, actor.plantId, id, { state: 'closed', closingNote, closedWithout, closedAt: now, dueAt: null }, now);
  await insertStep(tx, actor, id, 'closed', now, closingNote, { state: 'closed', evidence: closedWithout === '' ? undefined : `Closed without a verified effect: ${closedWithout}` });
  await record(tx, actor, 'incident.closed', `incident ${id}`, { before: { state: stored.state, dueAt: stored.dueAt }, after: { state: 'closed', closingNote, closedWithout } });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'closed' } }]);
}

/** Opens a closed incident again, in the state that it was closed from. */
export async function reopenIncident(tx: Tx, actor: Person, id: number, { revision, reason }: InputOf<typeof reopenContract>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  const state = previousState('closed', stored.verificationId !== null) ?? 'open';
  if (stored.state !== 'closed') throw new Problem('wrong-state', 'The incident is open.');
  await setIncident(tx, actor.plantId, id, { state, closedAt: null, closedWithout: '' }, now);
  await insertStep(tx, actor, id, 'reopened', now, reason, { state });
  await record(tx, actor, 'incident.reopened', `incident ${id}`, { before: { state: 'closed', closingNote: stored.closingNote, closedWithout: stored.closedWithout, closedAt: stored.closedAt }, after: { state, reason } });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'reopened' } }]);
}

/** The incident, locked, as the person saw it. */
export async function lockFresh(tx: Tx, actor: Actor, id: number, revision: number): Promise<StoredIncident> {
  const stored = await lockIncident(tx, actor.plantId, id);
  if (stored.revision !== revision) throw new Problem('changed-meanwhile', 'Load the incident again and put your change into its newest text.');
  return stored;
}

function pick<Row, Key extends keyof Row>(row: Row, keys: readonly Key[]): Pick<Row, Key> {
  return Object.fromEntries(keys.map((key) => [key, row[key]])) as Pick<Row, Key>;
}
