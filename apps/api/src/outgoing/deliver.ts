import type { Clock } from '../platform/clock.js';
import { announce } from '../platform/outbox.js';
import type { Reaction } from '../platform/outbox.worker.js';
import type { Work } from '../platform/work.js';
import { postJson } from './post-json.js';
import { signedHeaders } from './sign.js';
import { findDelivery, updateDelivery } from './webhooks.store.js';

/** With the outbox's pauses (2, 4, 8 … 600 s) a little over two hours. */
export const MOST_ATTEMPTS = 20;

/** Sends one delivery; throws where it is to be tried again, which the outbox does. What is noted as delivered is not sent again; where noting it failed, it is. */
export const deliver = (work: Work, clock: Clock): Reaction => async ({ plantId, payload }) => {
  const id = payload['deliveryId'];
  const row = typeof id === 'number' ? await findDelivery(work.read, plantId, id) : null;
  if (row?.state !== 'waiting') return;
  const note = (change: Parameters<typeof updateDelivery>[4]) => work.run(async (tx) => {
    await updateDelivery(tx, plantId, row.id, ['waiting'], change);
    await announce(tx, plantId, [{ kind: 'delivery.changed', payload: { deliveryId: row.id } }]);
  });
  if (row.webhook.removedAt || (!row.webhook.active && row.kind !== 'test')) return note({ state: 'failed', lastError: 'the webhook was switched off or removed' });
  const now = clock.now();
  const attempts = row.attempts + 1;
  const state = attempts >= MOST_ATTEMPTS ? 'failed' : 'waiting';
  const headers = signedHeaders(row.webhook.secret, row.body, { event: row.kind, delivery: row.eventKey, at: now });
  const { status, excerpt, refusal } = await postJson(row.webhook.url, headers, row.body, row.webhook.allowInternal).then(
    (answer) => ({ ...answer, refusal: answer.status >= 200 && answer.status < 300 ? null : `answered ${answer.status}` }),
    (error: unknown) => ({ status: null, excerpt: null, refusal: (error instanceof Error ? error.message : String(error)).slice(0, 500) }),
  );
  const tried = { attempts, attemptedAt: now, lastStatus: status, lastAnswer: excerpt, lastError: refusal };
  if (refusal === null) return note({ ...tried, state: 'delivered', deliveredAt: now });
  await note({ ...tried, state });
  if (state === 'waiting') throw new Error(refusal);
};
