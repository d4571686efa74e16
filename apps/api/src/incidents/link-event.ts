import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { deleteIncidentEvent, insertIncidentEvent } from './incident-events.store.js';
import { insertStep, lockIncident } from './incidents.store.js';
import { markPhotoRemoved } from './photos.store.js';

type Person = Actor & { userId: number };

/** Linking what is linked changes nothing. */
export async function linkEvent(tx: Tx, actor: Person, incidentId: number, eventId: number, reason: string, now: Date): Promise<void> {
  await lockIncident(tx, actor.plantId, incidentId);
  if (!(await insertIncidentEvent(tx, actor, incidentId, eventId, reason))) return;
  await insertStep(tx, actor, incidentId, 'event-linked', now, reason === '' ? `${eventId}` : `${eventId}: ${reason}`);
  await record(tx, actor, 'incident.event-linked', `incident ${incidentId}`, { after: { eventId, reason } });
}

export async function unlinkEvent(tx: Tx, actor: Person, incidentId: number, eventId: number, reason: string, now: Date): Promise<void> {
  await lockIncident(tx, actor.plantId, incidentId);
  await deleteIncidentEvent(tx, actor.plantId, incidentId, eventId);
  await insertStep(tx, actor, incidentId, 'event-unlinked', now, `${eventId}: ${reason}`);
  await record(tx, actor, 'incident.event-unlinked', `incident ${incidentId}`, { before: { eventId }, after: { reason } });
}

export async function removePhoto(tx: Tx, actor: Person, incidentId: number, photoId: number, reason: string, now: Date): Promise<void> {
  await lockIncident(tx, actor.plantId, incidentId);
  const fileName = await markPhotoRemoved(tx, actor.plantId, incidentId, photoId, { removedBy: actor.userId, removedAt: now, removedReason: reason });
  await insertStep(tx, actor, incidentId, 'photo-removed', now, `${fileName}: ${reason}`);
  await record(tx, actor, 'incident.photo-removed', `incident ${incidentId}`, { before: { photoId, fileName }, after: { reason } });
}
