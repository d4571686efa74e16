import type { FeedToken, NewFeedToken } from '#contract/feeds';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { hashToken, makeToken } from '../platform/token.js';
import { refuseDuplicate } from '../platform/unique.js';
import type { Work } from '../platform/work.js';
import { insertFeedToken, knownMachines, listFeedTokenViews } from './feed-tokens.store.js';

const MARK = 'feed_';
const SHOWN = MARK.length + 6;

/** A token's text, what of it is stored, and the beginning of it that lists show. */
export function newFeedToken(): { token: string; hash: string; hint: string } {
  const token = `${MARK}${makeToken()}`;
  return { token, hash: hashToken(token), hint: token.slice(0, SHOWN) };
}

/** Makes a token; its text is answered once and never kept. */
export async function makeFeedToken(work: Work, actor: Actor & { userId: number }, given: NewFeedToken, now: Date): Promise<{ token: string; made: FeedToken }> {
  if (new Date(given.expiresAt) <= now) throw new Problem('invalid-input', undefined, [{ field: 'expiresAt', expected: 'a moment in the future' }]);
  const { token, ...kept } = newFeedToken();
  return work.run(async (tx) => {
    const known = await knownMachines(tx, actor.plantId, given.machineIds);
    const missing = given.machineIds.findIndex((id) => !known.has(id));
    if (missing >= 0) throw new Problem('invalid-input', undefined, [{ field: `machineIds.${missing}`, expected: 'the id of a machine of this plant' }]);
    const row = { ...given, scopes: [...new Set(given.scopes)], machineIds: [...known] };
    const id = await refuseDuplicate(insertFeedToken(tx, actor.plantId, actor.userId, row, kept), 'name', `a name that no other token has, unless that one is revoked: "${given.name}" is taken`);
    await record(tx, actor, 'feed-token.made', `feed token ${id}`, { after: row });
    const [made] = await listFeedTokenViews(tx, actor.plantId, now, id);
    if (!made) throw new Problem('internal');
    return { token, made };
  });
}
