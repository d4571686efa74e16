import { announce } from '../platform/outbox.js';
import type { Work } from '../platform/work.js';
import { isQuiet } from './told-hours.js';
import { endQuiet, listQuietWebhooks } from './webhooks.store.js';

/** Sends on what waited for the end of quiet hours; answers how many messages. Any number of processes may do so at once. What is switched off or removed by now is noted as such by the delivery. */
export async function releaseQuiet(work: Work, now: Date): Promise<number> {
  let released = 0;
  for (const { plantId, id, timeZone, quiet } of await listQuietWebhooks(work.read)) {
    if (isQuiet(quiet, now, timeZone)) continue;
    await work.run(async (tx) => {
      const ids = await endQuiet(tx, plantId, id);
      released += ids.length;
      await announce(tx, plantId, ids.map((deliveryId) => ({ kind: 'delivery.due', payload: { deliveryId } })));
    });
  }
  return released;
}
