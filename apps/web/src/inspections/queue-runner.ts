import { recordCheck } from '#contract/inspections';
import { getPlant } from '#contract/plant';
import { call } from '../shared/http.js';
import { askSession } from '../shared/session.js';
import { entryPlant } from './entry-plant.js';
import { type SendOutcome, sendQueue } from './send-queue.js';

const LOCK = 'seamledger.queue';
let last: Promise<unknown> = Promise.resolve();
let waiting = 0;

/** True while this window sends. */
export const isSending = (): boolean => waiting > 0;

/** One run after the other, over all windows of the browser where it has locks; elsewhere the key in each check keeps it single. */
export function runQueue(personId: number): Promise<SendOutcome> {
  const run = () => sendQueue({
    personId, signedIn: async () => (await askSession()).person?.id ?? null,
    plant: async () => entryPlant(await call(getPlant, {})),
    send: (check) => call(recordCheck, { body: check }),
  });
  waiting += 1;
  const outcome = last.catch(() => {}).then(() => ('locks' in navigator ? navigator.locks.request(LOCK, run) : run())).finally(() => { waiting -= 1; });
  last = outcome;
  return outcome;
}
