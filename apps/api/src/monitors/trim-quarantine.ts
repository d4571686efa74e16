import { QUARANTINE } from '#contract/monitors';
import { record } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { addDropped } from './feed-state.store.js';
import { trimQuarantine } from './quarantine.store.js';

/** Keeps the quarantine of a plant within its bounds: a broken sender must not fill the disk. What goes is counted at its feed and told in the audit trail. */
export async function trimPlantsQuarantine(work: Work, plantId: number, now: Date, most: { messages: number; days: number } = QUARANTINE): Promise<number> {
  return work.run(async (tx) => {
    const feeds = await trimQuarantine(tx, plantId, most, now);
    for (const { feedId, dropped, gone } of feeds) {
      if (dropped > 0) await addDropped(tx, plantId, feedId, dropped);
      await record(tx, { plantId, userId: null, name: 'quarantine' }, 'quarantine.trimmed', `feed ${feedId}`, { after: { gone, undecided: dropped, most } });
    }
    return feeds.reduce((sum, { gone }) => sum + gone, 0);
  }, 60_000);
}
