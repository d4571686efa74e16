import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { deleteIncidentSignal, insertIncidentSignal, insertStep, lockIncident } from './incidents.store.js';

/** Linking what is linked changes nothing. */
export async function linkSignal(tx: Tx, actor: Actor & { userId: number }, incidentId: number, signalId: number, reason: string, now: Date): Promise<void> {
  await lockIncident(tx, actor.plantId, incidentId);
  if (!(await insertIncidentSignal(tx, actor, incidentId, signalId, reason))) return;
  await insertStep(tx, actor, incidentId, 'signal-linked', now, withReason(signalId, reason));
  await record(tx, actor, 'incident.signal-linked', `incident ${incidentId}`, { after: { signalId, reason } });
}

export async function unlinkSignal(tx: Tx, actor: Actor, incidentId: number, signalId: number, reason: string, now: Date): Promise<void> {
  await lockIncident(tx, actor.plantId, incidentId);
  await deleteIncidentSignal(tx, actor.plantId, incidentId, signalId);
  await insertStep(tx, actor, incidentId, 'signal-unlinked', now, withReason(signalId, reason));
  await record(tx, actor, 'incident.signal-unlinked', `incident ${incidentId}`, { before: { signalId }, after: { reason } });
}

const withReason = (signalId: number, reason: string): string => (reason === '' ? `${signalId}` : `${signalId}: ${reason}`);
