import { setImmediate } from 'node:timers/promises';
import { Notices } from '../platform/notices.js';
import type { Work } from '../platform/work.js';
import { keyOf, type PastFix } from './past-fix.js';
import { PastFixIndex } from './past-fix-index.js';
import { findNames, listPastFixes, listSegmentStamps, listStandings } from './past-fixes.store.js';
import { listPlantGroups } from './synonym-groups.store.js';
import { makeVocabulary } from './vocabulary.js';

/** What the index was made from: names and synonyms of the plant, the stamp of each part, and of each document. */
type Kept = { index: PastFixIndex; basis: string; parts: Map<number, { stamp: string; documents: Map<string, string> }> };
type Memory = { kept: Kept | undefined; running: Promise<void> | undefined; next: Promise<void> | undefined; readAt: number };

const SLICE = 20;
const [FEWEST_DEAD, DEAD_SHARE] = [200, 0.2];
/** A safety net for notices that were lost without the connection saying so. */
const OLD_MS = 30_000;

/**
 * The plants' notes and incidents, indexed in this process. Notices of the database say that something changed, whichever
 * process wrote it; what changed is then asked for and goes to the end of the index. A fresh index is built beside the
 * old one, in slices that let requests through, when many documents are dead or names or synonyms changed.
 */
export class PastFixes {
  private readonly memories = new Map<number, Memory>();
  private readonly notices: Notices;
  private readonly stopping = new AbortController();

  constructor(private readonly work: Work) {
    this.notices = new Notices(work.databaseUrl, 'past_fixes', () => { for (const plantId of this.memories.keys()) void this.refresh(plantId).catch(() => {}); });
  }

  /** The index as of the last notice; without notices, as of now. */
  async indexOf(plantId: number): Promise<PastFixIndex> {
    await this.notices.start();
    const { kept, readAt } = this.memoryOf(plantId);
    if (!kept || !this.notices.connected) await this.refresh(plantId);
    else if (Date.now() - readAt > OLD_MS) void this.refresh(plantId).catch(() => {});
    return (this.memoryOf(plantId).kept as Kept).index;
  }

  /** Takes in everything committed before the call. Calls that come together share one reading. */
  refresh(plantId: number): Promise<void> {
    const memory = this.memoryOf(plantId);
    if (!memory.running) {
      memory.running = this.read(plantId, memory).finally(() => { memory.running = undefined; });
      return memory.running;
    }
    // What runs may have read too early for this caller: one more after it is enough for all who wait.
    memory.next ??= memory.running.catch(() => {}).then(() => { memory.next = undefined; return this.refresh(plantId); });
    return memory.next;
  }

  /** After a write of this process: its people find what they wrote at once. Nothing where nobody has searched yet. */
  async catchUp(plantId: number): Promise<void> {
    if (this.memories.get(plantId)) await this.refresh(plantId);
  }

  async close(): Promise<void> {
    this.stopping.abort();
    await this.notices.stop();
    await Promise.allSettled([...this.memories.values()].map(({ running }) => running));
  }

  private memoryOf(plantId: number): Memory {
    const known = this.memories.get(plantId) ?? { kept: undefined, running: undefined, next: undefined, readAt: 0 };
    this.memories.set(plantId, known);
    return known;
  }

  private async read(plantId: number, memory: Memory): Promise<void> {
    const tx = this.work.read;
    const readAt = Date.now();
    const [names, groups, stamps] = [await findNames(tx, plantId), await listPlantGroups(tx, plantId), await listSegmentStamps(tx, plantId)];
    const basis = JSON.stringify([names, groups]);
    const { kept } = memory;
    const usable = kept?.basis === basis && kept.index.dead <= Math.max(FEWEST_DEAD, DEAD_SHARE * kept.index.size) ? kept : { index: new PastFixIndex(makeVocabulary(groups)), basis, parts: new Map<number, never>() };
    for (const { segment, stamp } of stamps) {
      const part = usable.parts.get(segment);
      if (part?.stamp !== stamp) usable.parts.set(segment, { stamp, documents: await this.takeIn(usable.index, part?.documents ?? new Map(), await listPastFixes(tx, plantId, segment)) });
    }
    for (const [segment, { documents }] of usable.parts) {
      if (stamps.some((one) => one.segment === segment)) continue;
      for (const key of documents.keys()) usable.index.remove(key);
      usable.parts.delete(segment);
    }
    usable.index.standings = await listStandings(tx, plantId);
    memory.kept = usable;
    memory.readAt = readAt;
  }

  /** Adds what is new or changed, removes what is gone; answers the stamps of what the part now holds. */
  private async takeIn(index: PastFixIndex, before: ReadonlyMap<string, string>, fixes: readonly (PastFix & { revision: string })[]): Promise<Map<string, string>> {
    const after = new Map<string, string>();
    let added = 0;
    for (const { revision, ...fix } of fixes) {
      const [key, stamp] = [keyOf(fix), `${revision} ${fix.changedAt.toISOString()}`];
      after.set(key, stamp);
      if (before.get(key) === stamp) continue;
      index.add(fix);
      added += 1;
      if (added % SLICE === 0) await setImmediate(undefined, { signal: this.stopping.signal });
    }
    for (const key of before.keys()) if (!after.has(key)) index.remove(key);
    return after;
  }
}
