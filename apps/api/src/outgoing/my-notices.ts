import type { AnswerOf } from '#contract/endpoint';
import type { getMyNotices, NoticeChoice } from '#contract/outgoing';
import { type Actor, record } from '../platform/audit.js';
import type { Outward } from '../platform/outward.js';
import { hashToken, makeToken } from '../platform/token.js';
import type { Tx, Work } from '../platform/work.js';
import { addressSince, deleteAddress, saveAddress } from './calendar-addresses.store.js';
import { countWaiting, deleteChoice, listChoices, saveChoice } from './notices.store.js';
import { requireHours } from './told-hours.store.js';

type Acting = Actor & { userId: number };

export async function myNotices(tx: Tx, { plantId, userId }: Acting, outward: Outward): Promise<AnswerOf<typeof getMyNotices>> {
  const found = (await listChoices(tx, plantId)).find((choice) => choice.userId === userId);
  const since = await addressSince(tx, plantId, userId);
  if (!found) return { mailServer: outward.smtp !== null, choice: null, calendarSince: since?.toISOString() ?? null, waiting: 0 };
  const { userId: _user, ...choice } = found;
  return { mailServer: outward.smtp !== null, choice, calendarSince: since?.toISOString() ?? null, waiting: await countWaiting(tx, plantId, userId) };
}

export async function chooseNotices(work: Work, actor: Acting, choice: NoticeChoice, now: Date): Promise<void> {
  await work.run(async (tx) => {
    await requireHours(tx, actor.plantId, choice);
    await saveChoice(tx, actor.plantId, actor.userId, choice, now);
    await record(tx, actor, 'notices.chosen', `user ${actor.userId}`, { after: choice });
  });
}

export async function endNotices(work: Work, actor: Acting): Promise<void> {
  await work.run(async (tx) => {
    await deleteChoice(tx, actor.plantId, actor.userId);
    await record(tx, actor, 'notices.ended', `user ${actor.userId}`);
  });
}

/** Answers the token, which is stored as its hash; the one before ends. */
export async function makeCalendar(work: Work, actor: Acting, now: Date): Promise<string> {
  const token = makeToken();
  await work.run(async (tx) => {
    await saveAddress(tx, actor.plantId, actor.userId, hashToken(token), now);
    await record(tx, actor, 'calendar.made', `user ${actor.userId}`);
  });
  return token;
}

export async function endCalendar(work: Work, actor: Acting): Promise<void> {
  await work.run(async (tx) => {
    await deleteAddress(tx, actor.plantId, actor.userId);
    await record(tx, actor, 'calendar.ended', `user ${actor.userId}`);
  });
}
