import type { OutgoingKind } from '#contract/outgoing';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { insertNotices, listChoices } from './notices.store.js';
import { withheldAt } from './told-hours.js';
import { listPlantShifts } from './told-hours.store.js';
import { insertDeliveries, listHearers } from './webhooks.store.js';

/** Something that happened, for whoever asked to be told. `key` names it for ever; `topic` is what "at most one an hour" counts by. */
export type OutgoingEvent = { key: string; kind: Exclude<OutgoingKind, 'test'>; topic: string; text: string; path: string; data: Record<string, unknown>; at: Date };

/** The whole address of a page of this installation. */
export const linkTo = (publicUrl: string, path: string): string => `${publicUrl.replace(/\/$/, '')}${path}`;

/** Writes what is to be sent, in the caller's transaction; of webhooks also what is not sent because of their hours. Once for each key: a repeat adds nothing. */
export async function tellOut(tx: Tx, plant: { id: number; name: string; timeZone: string }, event: OutgoingEvent, now: Date, publicUrl: string | null): Promise<void> {
  const body = JSON.stringify({ event: event.kind, id: event.key, plant: plant.name, at: event.at.toISOString(), text: event.text, data: { ...event.data, path: event.path, ...(publicUrl === null ? {} : { link: linkTo(publicUrl, event.path) }) } });
  const shifts = await listPlantShifts(tx, plant.id);
  const hearers = (await listHearers(tx, plant.id, event.kind)).map(({ id, ...hours }) => ({ webhookId: id, withheld: withheldAt(hours, shifts, now, plant.timeZone) }));
  const ids = await insertDeliveries(tx, plant.id, { key: event.key, kind: event.kind, body }, hearers, now);
  await announce(tx, plant.id, ids.map((deliveryId) => ({ kind: 'delivery.due', payload: { deliveryId } })));
  const wanted = (await listChoices(tx, plant.id)).filter((choice) => (event.kind === 'signal.raised' ? choice.signals : choice.overdue) && [null, 'quiet'].includes(withheldAt(choice, shifts, now, plant.timeZone)));
  await insertNotices(tx, plant.id, wanted.map(({ userId }) => ({ userId, eventKey: event.key, topic: event.topic, text: event.text, path: event.path, at: now })));
}
