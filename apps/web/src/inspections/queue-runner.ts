import { addCheckPhotos } from '#contract/check-photos';
import { recordCheck } from '#contract/inspections';
import { getPlant } from '#contract/plant';
import { call, upload } from '../shared/http.js';
import { askSession } from '../shared/session.js';
import { entryPlant } from './entry-plant.js';
import { photoRequest } from './photo-queries.js';
import { sendPhotos } from './send-photos.js';
import { type SendOutcome, sendQueue } from './send-queue.js';

/** One run after the other, over all windows of the browser where it has locks; elsewhere what is sent says itself what it is, and is stored once. */
function lane<Arg>(lock: string, work: (arg: Arg) => Promise<SendOutcome>) {
  let last: Promise<unknown> = Promise.resolve();
  let waiting = 0;
  const run = (arg: Arg): Promise<SendOutcome> => {
    waiting += 1;
    const outcome = last.catch(() => {}).then(() => ('locks' in navigator ? navigator.locks.request(lock, () => work(arg)) : work(arg))).finally(() => { waiting -= 1; });
    last = outcome;
    return outcome;
  };
  return { run, busy: () => waiting > 0 };
}

const signedIn = async () => (await askSession()).person?.id ?? null;
const checks = lane('seamledger.queue', (personId: number) => sendQueue({ personId, signedIn, plant: async () => entryPlant(await call(getPlant, {})), send: (check) => call(recordCheck, { body: check }) }));
const photos = lane('seamledger.photos', (personId: number) => sendPhotos({ personId, signedIn, send: (photo) => upload(addCheckPhotos, photoRequest(photo.checkId, photo)) }));

/** Sends the checks of a person. */
export const runQueue = checks.run;
/** Sends their photos, which go after the checks: a verdict never waits for a picture. */
export const runPhotos = photos.run;
/** True while this window sends. */
export const isSending = (): boolean => checks.busy() || photos.busy();
