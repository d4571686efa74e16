import type { InputOf } from '#contract/endpoint';
import type { changeIncident as changeContract, closeIncident as closeContract, reopenIncident as reopenContract } from '#contract/incidents';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { findingsFaults } from './findings.js';
import { type IncidentTexts, insertStep, lockIncident, setIncident, type StoredIncident } from './incidents.store.js';

type Person = Actor & { userId: number };

/** Writes containment, cause, action or corrected findings of an open incident; what stays the same is not written. */
export async function changeIncident(tx: Tx, actor: Person, id: number, { revision, ...wished }: InputOf<typeof changeContract>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state !== 'open') throw new Problem('wrong-state', 'The incident is closed: open it again first, with the reason.');
  const fields = ['containment', 'cause', 'action', 'cansExamined', 'cansLeaking', 'leakPlace', 'defect'] as const;
  const changed = fields.filter((field) => wished[field] !== undefined && wished[field] !== stored[field]);
  if (changed.length === 0) return;
  const after: IncidentTexts = { ...pick(stored, fields), ...wished };
  const errors = findingsFaults(after);
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  await setIncident(tx, actor.plantId, id, pick(after, changed), now);
  await insertStep(tx, actor, id, 'changed', now, changed.join(', '));
  await record(tx, actor, 'incident.changed', `incident ${id}`, { before: pick(stored, changed), after: pick(after, changed) });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'changed' } }]);
}

/** Closes an incident whose cause and action are on record. Disposition of product is decided elsewhere, by people. */
export async function closeIncident(tx: Tx, actor: Person, id: number, { revision, closingNote }: InputOf<typeof closeContract>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state !== 'open') throw new Problem('wrong-state', 'The incident is closed already.');
  const missing = (['cause', 'action'] as const).filter((field) => stored[field].trim() === '');
  if (missing.length > 0) throw new Problem('wrong-state', `Before it can be closed, ${missing.join(' and ')} must be on record.`, missing.map((field) => ({ field, expected: 'a text' })));
  await setIncident(tx, actor.plantId, id, { state: 'closed', closingNote, closedAt: now }, now);
  await insertStep(tx, actor, id, 'closed', now, closingNote);
  await record(tx, actor, 'incident.closed', `incident ${id}`, { before: { state: 'open' }, after: { state: 'closed', closingNote } });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'closed' } }]);
}

export async function reopenIncident(tx: Tx, actor: Person, id: number, { revision, reason }: InputOf<typeof reopenContract>['body'], now: Date): Promise<void> {
  const stored = await lockFresh(tx, actor, id, revision);
  if (stored.state !== 'closed') throw new Problem('wrong-state', 'The incident is open.');
  await setIncident(tx, actor.plantId, id, { state: 'open', closedAt: null }, now);
  await insertStep(tx, actor, id, 'reopened', now, reason);
  await record(tx, actor, 'incident.reopened', `incident ${id}`, { before: { state: 'closed', closingNote: stored.closingNote, closedAt: stored.closedAt }, after: { state: 'open', reason } });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'reopened' } }]);
}

async function lockFresh(tx: Tx, actor: Actor, id: number, revision: number): Promise<StoredIncident> {
  const stored = await lockIncident(tx, actor.plantId, id);
  if (stored.revision !== revision) throw new Problem('changed-meanwhile', 'Load the incident again and put your change into its newest text.');
  return stored;
}

function pick<Row, Key extends keyof Row>(row: Row, keys: readonly Key[]): Pick<Row, Key> {
  return Object.fromEntries(keys.map((key) => [key, row[key]])) as Pick<Row, Key>;
}
