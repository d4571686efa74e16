import { record } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { deleteJudgedGroups } from './body-chunks.store.js';
import { dropMonth, freezeHolds, keepCited, listOldMonths, listRetentions } from './retention.store.js';

const DAY_MS = 86_400_000;
/** No topic takes bodies that are older. */
const LONGEST_LATE_MS = 367 * DAY_MS;

/** Drops the months of every-body readings that are older than their plant keeps them, one transaction a month; what is cited is copied out in the same transaction. */
export async function dropOldBodies(work: Work, now: Date): Promise<{ plantId: number; month: string; kept: number }[]> {
  const dropped: { plantId: number; month: string; kept: number }[] = [];
  for (const { plantId, keepDays } of await listRetentions(work.read)) {
    for (const month of await listOldMonths(work.read, plantId, new Date(now.getTime() - keepDays * DAY_MS))) {
      await work.run(async (tx) => {
        await freezeHolds(tx);
        const kept = await keepCited(tx, plantId, month);
        if (!(await dropMonth(tx, plantId, month))) return;
        const name = month.toISOString().slice(0, 7);
        await record(tx, { plantId, userId: null, name: 'retention' }, 'body-readings.dropped', `every-body readings of ${name}`, { after: { month: name, keepDays, keptMinutes: kept } });
        dropped.push({ plantId, month: name, kept });
      }, 600_000);
    }
  }
  await deleteJudgedGroups(work.read, new Date(now.getTime() - LONGEST_LATE_MS));
  return dropped;
}
