import type { FeedToken } from '#contract/feeds';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { listFeedTokenViews, markRevoked } from './feed-tokens.store.js';

/** From the next request on the token is refused. What it sent stays. */
export function revokeFeedToken(work: Work, actor: Actor & { userId: number }, id: number, reason: string, now: Date): Promise<FeedToken> {
  return work.run(async (tx) => {
    const revoked = await markRevoked(tx, actor.plantId, id, { userId: actor.userId, at: now, reason });
    const [view] = await listFeedTokenViews(tx, actor.plantId, now, id);
    if (!view) throw new Problem('not-found', `There is no token ${id}.`);
    if (!revoked) throw new Problem('wrong-state', 'This token is revoked already.');
    await record(tx, actor, 'feed-token.revoked', `feed token ${id}`, { after: { reason } });
    return view;
  });
}
