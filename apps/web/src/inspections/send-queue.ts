import type { CheckVerdict, NewCheck } from '#contract/inspections';
import { ProblemError } from '../shared/http.js';
import { laterBecause } from './later-because.js';
import { changePhotosOf } from './photo-store.js';
import { changedSince } from './queue-basis.js';
import type { Conflict } from './queue-item.js';
import { changeQueued, listQueue } from './queue-store.js';
import type { EntryPlant } from './sheet.js';

/** How a run ended: all dealt with, or why the rest still waits. */
export type SendOutcome = 'done' | 'offline' | 'sign-in' | 'busy';
export type SendParts = { personId: number; /** Who is signed in, asked anew. */ signedIn: () => Promise<number | null>; plant: () => Promise<EntryPlant>; send: (check: NewCheck) => Promise<CheckVerdict> };

/**
 * Sends what waits of one person, in order, each as it was entered and under its own key, so that a check whose answer
 * was lost is answered again and not stored again. One that comes back does not hold up those behind it: late checks
 * are judged in their place. What the server cannot take now waits; what it will not take goes back to the person.
 */
export async function sendQueue({ personId, signedIn, plant, send }: SendParts): Promise<SendOutcome> {
  const wanting = (await listQueue(personId)).filter(({ state }) => state === 'waiting' || state === 'sending');
  if (wanting.length === 0) return 'done';
  let now: EntryPlant;
  try {
    if ((await signedIn()) !== personId) return 'sign-in';
    now = await plant();
  } catch (error) {
    return laterBecause(error) ?? 'busy';
  }
  for (const item of wanting) {
    const changed = item.accepted ? [] : changedSince(now, item);
    // Sent before, perhaps stored: only the server can tell, and its answer does not depend on what changed since.
    if (changed.length > 0 && item.state === 'waiting') {
      await changeQueued(item.place, { state: 'needs-you', conflict: { kind: 'changed', what: changed } });
      continue;
    }
    if (!(await changeQueued(item.place, { state: 'sending', conflict: null }))) continue;
    try {
      const verdict = await send(item.check);
      // Before the check counts as stored: a window that is closed here sends it again, and gets the same answer.
      await changePhotosOf(item.key, { checkId: verdict.checkId });
      await changeQueued(item.place, { state: 'stored', conflict: null, verdict });
    } catch (error) {
      const later = laterBecause(error);
      // It stays "sending" where the answer was lost: the server may have it.
      if (later === 'offline') return later;
      if (later !== null) { await changeQueued(item.place, { state: 'waiting' }); return later; }
      await changeQueued(item.place, { state: 'needs-you', conflict: conflictOf(error) });
    }
  }
  return 'done';
}

const conflictOf = (error: unknown): Conflict => (error instanceof ProblemError ? { kind: 'refused', problem: error.problem } : { kind: 'unreadable' });
