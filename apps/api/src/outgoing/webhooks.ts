import { randomUUID } from 'node:crypto';
import { Problem } from '#contract/problem';
import type { Webhook } from '#contract/outgoing';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { makeToken } from '../platform/token.js';
import type { Tx, Work } from '../platform/work.js';
import type { ToldHours } from './told-hours.js';
import { requireHours } from './told-hours.store.js';
import { findDelivery, type Given, insertDeliveries, insertWebhook, listWebhookViews, markWebhookRemoved, plantName, updateDelivery, updateWebhook } from './webhooks.store.js';

type Acting = Actor & { userId: number };
const missing = (id: number) => new Problem('not-found', `There is no webhook ${id}.`);
const tell = (tx: Tx, plantId: number, webhookId: number) => announce(tx, plantId, [{ kind: 'webhook.changed', payload: { webhookId } }]);

async function viewOf(tx: Tx, plantId: number, id: number): Promise<Webhook> {
  const [view] = await listWebhookViews(tx, plantId, id);
  if (!view) throw missing(id);
  return view;
}

/** The secret is answered once; the audit trail does not have it. */
export async function makeWebhook(work: Work, actor: Acting, given: Given, now: Date): Promise<{ webhook: Webhook; secret: string }> {
  const secret = makeToken();
  return work.run(async (tx) => {
    await requireHours(tx, actor.plantId, given);
    const id = await insertWebhook(tx, actor.plantId, { ...given, secret, madeBy: actor.userId, madeAt: now });
    await record(tx, actor, 'webhook.made', `webhook ${id}`, { after: given });
    await tell(tx, actor.plantId, id);
    return { webhook: await viewOf(tx, actor.plantId, id), secret };
  });
}

/** Hours that are left out stay. */
export async function editWebhook(work: Work, actor: Acting, id: number, given: Omit<Given, keyof ToldHours> & { [Part in keyof ToldHours]?: ToldHours[Part] | undefined } & { active: boolean }): Promise<Webhook> {
  return work.run(async (tx) => {
    const before = await viewOf(tx, actor.plantId, id);
    const { shift = before.shift, shifts = before.shifts, days = before.days, quiet = before.quiet, ...rest } = given;
    const after = { ...rest, shift, shifts, days, quiet };
    if (given.shift !== undefined || given.shifts !== undefined) await requireHours(tx, actor.plantId, after);
    if (!(await updateWebhook(tx, actor.plantId, id, after))) throw missing(id);
    await record(tx, actor, 'webhook.changed', `webhook ${id}`, { before, after });
    await tell(tx, actor.plantId, id);
    return viewOf(tx, actor.plantId, id);
  });
}

export async function dropWebhook(work: Work, actor: Acting, id: number, now: Date): Promise<void> {
  await work.run(async (tx) => {
    if (!(await markWebhookRemoved(tx, actor.plantId, id, now))) throw missing(id);
    await record(tx, actor, 'webhook.removed', `webhook ${id}`);
    await tell(tx, actor.plantId, id);
  });
}

export async function tryWebhook(work: Work, actor: Acting, id: number, now: Date): Promise<void> {
  await work.run(async (tx) => {
    await viewOf(tx, actor.plantId, id);
    const plant = await plantName(tx, actor.plantId);
    const key = `test-${randomUUID()}`;
    const body = JSON.stringify({ event: 'test', id: key, plant, at: now.toISOString(), text: 'A test of this webhook.', data: {} });
    const ids = await insertDeliveries(tx, actor.plantId, { key, kind: 'test', body }, [{ webhookId: id, withheld: null }], now);
    await announce(tx, actor.plantId, ids.map((deliveryId) => ({ kind: 'delivery.due', payload: { deliveryId } })));
  });
}

/** For what was delivered, given up, withheld or waits for the end of quiet hours; what is still being tried needs no second hand. */
export async function resend(work: Work, actor: Acting, id: number): Promise<void> {
  await work.run(async (tx) => {
    if (!(await findDelivery(tx, actor.plantId, id))) throw new Problem('not-found', `There is no delivery ${id}.`);
    if (!(await updateDelivery(tx, actor.plantId, id, ['delivered', 'failed', 'quiet', 'not-sent'], { state: 'waiting', attempts: 0 }))) throw new Problem('wrong-state', 'This message is still being tried.');
    await record(tx, actor, 'delivery.resent', `delivery ${id}`);
    await announce(tx, actor.plantId, [{ kind: 'delivery.due', payload: { deliveryId: id } }]);
  });
}
