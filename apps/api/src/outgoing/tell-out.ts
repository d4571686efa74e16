import type { OutgoingKind } from '#contract/outgoing';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { insertNotices, listChoices } from './notices.store.js';
import { inSpan, minuteOfDay } from './plan-mail.js';
import { insertDeliveries } from './webhooks.store.js';

/** Something that happened, for whoever asked to be told. `key` names it for ever; `topic` is what "at most one an hour" counts by. */
export type OutgoingEvent = { key: string; kind: Exclude<OutgoingKind, 'test'>; topic: string; text: string; path: string; data: Record<string, unknown>; at: Date };

/** Writes what is to be sent, in the caller's transaction. Once for each key: a repeat adds nothing. */
export async function tellOut(tx: Tx, plant: { id: number; name: string; timeZone: string }, event: OutgoingEvent, now: Date): Promise<void> {
  const body = JSON.stringify({ event: event.kind, id: event.key, plant: plant.name, at: event.at.toISOString(), text: event.text, data: { ...event.data, path: event.path } });
  const ids = await insertDeliveries(tx, plant.id, { key: event.key, kind: event.kind, body }, now);
  await announce(tx, plant.id, ids.map((deliveryId) => ({ kind: 'delivery.due', payload: { deliveryId } })));
  const minute = minuteOfDay(now, plant.timeZone);
  const wanted = (await listChoices(tx, plant.id)).filter(({ signals, overdue, shift }) => (event.kind === 'signal.raised' ? signals : overdue) && (shift === null || inSpan(minute, shift)));
  await insertNotices(tx, plant.id, wanted.map(({ userId }) => ({ userId, eventKey: event.key, topic: event.topic, text: event.text, path: event.path, at: now })));
}
