import { deleteJournal, insertJournal, insertJudgedGroups, makeBodyMonths, upsertChunks } from '../monitors/body-chunks.store.js';
import { addCounts, holdLease, noCounts } from '../monitors/feed-state.store.js';
import { encodeJournal } from '../monitors/journal-bytes.js';
import { minuteOf, rowsOf } from '../monitors/minute-book.js';
import type { Tx, Work } from '../platform/work.js';
import type { FeedRun } from './feed-run.js';
import { recordMonitorSubgroups } from './monitor-subgroups.js';
import { LostLease } from './take-messages.js';

/** A minute is folded this long after its end: bodies that come later only cost a second writing. */
export const FOLD_AFTER_MS = 3000;
const GROUP_PATIENCE_MS = 10_000;
const MINUTES_AT_ONCE = 150;
const MONTH_AHEAD_MS = 31 * 86_400_000;

/**
 * Writes up to 150 minutes that have ended as chunks; few at a time, for messages come meanwhile. When none is left, what
 * belongs to the end of a fold is done. Both go by one moment: a later one would let go of journal rows whose minutes are
 * not in chunks yet. Answers whether to call again at once.
 */
export async function foldMinutes(work: Work, run: FeedRun, now: Date): Promise<boolean> {
  if (await foldSome(work, run, now)) return true;
  await endFold(work, run, now);
  return false;
}

/** The minutes stay in the journal until `endFold`, so a start in between finds them in both and takes them once. Answers false when none is left. */
async function foldSome(work: Work, run: FeedRun, now: Date): Promise<boolean> {
  const minutes = await work.run(async (tx) => {
    await mine(tx, run);
    const found = run.book.unfolded(minuteOf(now.getTime() - FOLD_AFTER_MS), MINUTES_AT_ONCE);
    if (found.length === 0) return found;
    await makeBodyMonths(tx, [...new Set(found.map(({ minute }) => minute))].map((minute) => new Date(minute)).concat(now, new Date(now.getTime() + MONTH_AHEAD_MS)));
    await upsertChunks(tx, run.feed.plantId, found.flatMap(rowsOf));
    return found;
  });
  run.book.folded(minutes);
  return minutes.length > 0;
}

/** Judges subgroups that will not be completed any more, and empties the journal of what is in chunks. */
async function endFold(work: Work, run: FeedRun, now: Date): Promise<void> {
  const end = minuteOf(now.getTime() - FOLD_AFTER_MS);
  const { gone, kept } = await work.run(async (tx) => {
    await mine(tx, run);
    const formed = run.forming.flatMap((former) => former.overdue(now.getTime() - GROUP_PATIENCE_MS));
    await recordMonitorSubgroups(tx, run.actor, formed.map(({ streamId, at, readings }) => ({ stream: run.runOf(streamId).identity, at, readings })), now);
    await insertJudgedGroups(tx, run.feed.plantId, formed);
    for (const group of formed) run.former(group.streamId).markJudged(group);
    if (formed.length > 0) await addCounts(tx, run.lease, { ...noCounts(), subgroups: formed.length }, null, null);
    const folded = run.journal.filter(({ newest }) => newest < end);
    // What waits for its subgroup would go with the old rows.
    const waiting = folded.length === 0 ? [] : run.forming.flatMap((former) => former.members()).map((member) => ({ ...member, forming: true }));
    const id = waiting.length === 0 ? null : await insertJournal(tx, run.feed.plantId, run.feed.id, encodeJournal(waiting));
    if (folded.length > 0) await deleteJournal(tx, run.feed.plantId, run.feed.id, folded.map((row) => row.id));
    return { gone: new Set(folded.map((row) => row.id)), kept: id };
  });
  run.journal = run.journal.filter((row) => !gone.has(row.id));
  if (kept !== null) run.journal.unshift({ id: kept, newest: 0 });
  run.book.forget(end, run.keep);
}

async function mine(tx: Tx, run: FeedRun): Promise<void> {
  if (!(await holdLease(tx, run.lease))) throw new LostLease('another process runs the feed');
  await run.load(tx);
}
