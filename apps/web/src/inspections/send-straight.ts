import type { CheckVerdict, NewCheck } from '#contract/inspections';
import { changePhotosOf } from './photo-store.js';

/** For a browser that could not queue the check: it goes out at once. Photos that were kept all the same, as where the storage filled up with them, learn which check is theirs. */
export async function sendStraight(check: NewCheck, send: (check: NewCheck) => Promise<CheckVerdict>): Promise<CheckVerdict> {
  const verdict = await send(check);
  await changePhotosOf(check.key, { checkId: verdict.checkId }).catch(() => { /* No database, no photos. */ });
  return verdict;
}
