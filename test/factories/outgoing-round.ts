import { OutgoingWorker } from '../../apps/api/src/flows/outgoing/outgoing.worker.js';
import type { TestApi } from '../db/api.js';
import type { TestDatabase } from '../db/database.js';

/** One round of what the program does by the clock: reactions, gathering, sending; the pauses before tries are over. */
export async function outgoingRound(api: TestApi, database: TestDatabase): Promise<void> {
  await api.react();
  const worker = api.app.get(OutgoingWorker);
  await worker.look();
  await database.work.client.outboxRow.updateMany({ data: { dueAt: new Date(0) } });
  await worker.lane.drain();
}
