import type { NewIncident } from '#contract/incidents';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { loggedFaults } from './findings.js';
import { dueFaults } from './life.js';
import { insertIncident, insertStep, referenceFaults } from './incidents.store.js';

/** Logs a complaint or a finding of the plant's own; notes that may fit are looked for afterwards. */
export async function logIncident(tx: Tx, actor: Actor & { userId: number }, incident: NewIncident, now: Date): Promise<number> {
  const errors = [...loggedFaults(incident, now), ...dueFaults(incident.dueAt, now), ...(await referenceFaults(tx, actor.plantId, incident))];
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  const id = await insertIncident(tx, actor, incident, now);
  await insertStep(tx, actor, id, 'logged', now);
  await record(tx, actor, 'incident.logged', `incident ${id}`, { after: incident });
  await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId: id, change: 'logged' } }]);
  return id;
}
