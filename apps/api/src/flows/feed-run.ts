import { listJournal, listJudgedGroups, loadChunks } from '../monitors/body-chunks.store.js';
import type { Lease } from '../monitors/feed-state.store.js';
import type { RunnableFeed, RunnableTopic } from '../monitors/monitors.store.js';
import { decodeJournal, type JournalEntry } from '../monitors/journal-bytes.js';
import { makeMapper, type Mapper } from '../monitors/map-message.js';
import { matchesTopic } from '../monitors/match-topic.js';
import { type BodyReading, MINUTE_MS, MinuteBook, minuteOf, type StoredChunk } from '../monitors/minute-book.js';
import { type Grouping, SubgroupFormer } from '../monitors/subgroup-former.js';
import { type StreamIdentity, streamKey } from '../inspections/place-readings.js';
import type { Actor } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { listStreams } from '../specifications/streams.store.js';
import { feedReferences, type FeedReferences } from './feed-references.js';

export type TopicRun = RunnableTopic & { map: Mapper };
/** How the readings of one stream are grouped, and whether its messages carry a time of their own. */
type StreamRun = { identity: StreamIdentity; grouping: Grouping; ownTime: boolean };

/** Without a time of its own a repeat is known by its counter alone, for so long; then the counter may have begun anew. */
const REPEATS_MS = 15 * MINUTE_MS;
const MOST_TOPICS = 10_000;
const REFERENCES_MS = 5000;

const bodyKey = ({ streamId, count }: Pick<BodyReading, 'streamId' | 'count'>): string => `${streamId}/${count}`;

/** Entries that only wait for their subgroup are written anew with each fold, so they hold no row. */
export const newestOf = (entries: readonly JournalEntry[]): number => entries.reduce((newest, { at, forming }) => (forming ? newest : Math.max(newest, at)), 0);

/**
 * What a process that runs a feed keeps in memory: the open minutes and the subgroups in the making. All of it can be had
 * again from journal and chunks, so after a failed transaction it is dropped and loaded anew.
 */
export class FeedRun {
  readonly actor: Actor & { userId: number };
  readonly topics: readonly TopicRun[];
  book = new MinuteBook();
  private formers = new Map<number, SubgroupFormer>();
  private readonly ids = new Map<string, number>();
  private readonly runs = new Map<number, StreamRun>();
  private readonly matched = new Map<string, TopicRun | null>();
  private readonly recalled = new Set<number>();
  private loaded = false;
  /** The journal rows that are there, each with its newest moment: once that is in a folded minute, the row may go. */
  journal: { id: bigint; newest: number }[] = [];
  private references: { at: number; value: FeedReferences } | undefined;

  constructor(readonly feed: RunnableFeed, readonly lease: Lease, topics: readonly RunnableTopic[], private readonly clock: () => Date) {
    this.actor = { plantId: feed.plantId, userId: feed.madeBy, name: `feed ${feed.name}` };
    this.topics = topics.map((topic) => ({ ...topic, map: makeMapper(topic) }));
  }

  topicOf(name: string): TopicRun | null {
    let topic = this.matched.get(name);
    if (topic === undefined) {
      topic = this.topics.find(({ filter }) => matchesTopic(filter, name)) ?? null;
      if (this.matched.size < MOST_TOPICS) this.matched.set(name, topic);
    }
    return topic;
  }

  streamId(identity: StreamIdentity): number | undefined {
    return this.ids.get(streamKey(identity));
  }

  /** Where no topic feeds the stream any more, each body is a subgroup of its own: nothing waits for another one. */
  learn(id: number, identity: StreamIdentity): void {
    const topic = this.topics.find(({ machineId, mapping }) => machineId === identity.machineId && mapping.kind === 'readings' && mapping.channels.some((channel) => channel.characteristicId === identity.characteristicId && channel.laneId === identity.laneId && channel.unitId === identity.unitId));
    const mapping = topic?.mapping.kind === 'readings' ? topic.mapping : null;
    this.ids.set(streamKey(identity), id);
    this.runs.set(id, { identity, grouping: { size: mapping?.subgroup.size ?? 1, every: mapping?.subgroup.every ?? 1, byCount: (mapping?.count ?? null) !== null }, ownTime: (mapping?.time ?? null) !== null });
  }

  runOf(id: number): StreamRun {
    const run = this.runs.get(id);
    if (!run) throw new RangeError(`FeedRun: needs a stream that it knows, ${id} given`);
    return run;
  }

  former(id: number): SubgroupFormer {
    let former = this.formers.get(id);
    if (!former) {
      former = new SubgroupFormer(id, this.runOf(id).grouping);
      this.formers.set(id, former);
    }
    return former;
  }

  get forming(): SubgroupFormer[] {
    return [...this.formers.values()];
  }

  /** How long folded minutes of a stream stay in memory after their end. */
  readonly keep = (id: number): number => ((this.runs.get(id)?.ownTime ?? true) ? MINUTE_MS : REPEATS_MS);

  reset(): void {
    this.book = new MinuteBook();
    this.formers = new Map();
    this.journal = [];
    this.recalled.clear();
    this.loaded = false;
  }

  /** Reads what is committed and not yet folded. */
  async load(tx: Tx): Promise<void> {
    if (this.loaded) return;
    const rows = (await listJournal(tx, this.feed.plantId, this.feed.id)).map((row) => ({ id: row.id, entries: decodeJournal(row.entries) }));
    const entries = rows.flatMap((row) => row.entries);
    const streams = await listStreams(tx, this.feed.plantId, [...new Set(entries.map(({ streamId }) => streamId))]);
    for (const stream of streams) this.learn(stream.id, stream);
    const inMinutes = entries.filter(({ forming }) => !forming);
    // A subgroup may have begun in the minute before.
    await this.openMinutes(tx, [...inMinutes, ...inMinutes.map((entry) => ({ ...entry, at: entry.at - MINUTE_MS }))]);
    // A subgroup that is complete here was recorded by the transaction that brought its last body.
    const there = new Set(entries.map(bodyKey));
    for (const entry of entries) if (!this.wasComplete(entry, there)) this.former(entry.streamId).add(entry);
    for (const entry of inMinutes) this.book.add(entry, !this.runOf(entry.streamId).ownTime);
    this.journal = rows.map((row) => ({ id: row.id, newest: newestOf(row.entries) }));
    this.loaded = true;
  }

  /**
   * Whether the subgroup of a body was judged before the start. By the counter: another body of it has left the journal, where what waits for
   * its subgroup stays. By the clock: as many bodies of its span were folded as make one.
   */
  private wasComplete({ streamId, at, count }: BodyReading, there: ReadonlySet<string>): boolean {
    const { size, every } = this.runOf(streamId).grouping;
    if (count === null) {
      const begun = Math.floor(at / (every * 1000)) * every * 1000;
      return this.book.countStored(streamId, begun, begun + every * 1000) >= size;
    }
    const start = this.former(streamId).groupStart(count);
    if (start === null) return false;
    for (let member = start; member < start + size; member += 1) {
      if (!there.has(bodyKey({ streamId, count: member })) && [at, at - MINUTE_MS].some((moment) => this.book.wasStoredWith(streamId, moment, member, 1))) return true;
    }
    return false;
  }

  /** Which groups of these streams were judged without all of their bodies, as far back as bodies may still come. */
  private async recallJudged(tx: Tx, readings: readonly BodyReading[]): Promise<void> {
    const streamIds = [...new Set(readings.map(({ streamId }) => streamId))].filter((id) => !this.recalled.has(id));
    if (streamIds.length === 0) return;
    for (const id of streamIds) this.recalled.add(id);
    const lateHours = Math.max(1, ...this.topics.map((topic) => topic.lateHours));
    for (const group of await listJudgedGroups(tx, this.feed.plantId, streamIds, new Date(this.clock().getTime() - (lateHours + 1) * 60 * MINUTE_MS))) this.former(group.streamId).markJudged(group);
  }

  /** The plant's master data, at most five seconds old. */
  async known(tx: Tx, now: Date): Promise<FeedReferences> {
    if (!this.references || Math.abs(now.getTime() - this.references.at) > REFERENCES_MS) this.references = { at: now.getTime(), value: await feedReferences(tx, this.feed.plantId) };
    return this.references.value;
  }

  /** Brings the stored part of every minute that these readings fall into, and that is not in memory, before they are put there. */
  async openMinutes(tx: Tx, readings: readonly BodyReading[]): Promise<void> {
    // What was judged before all of it had come must not be judged a second time, neither from late bodies nor from what the journal still holds.
    await this.recallJudged(tx, readings);
    const wanted = new Map<string, { streamId: number; minute: number }>();
    for (const { streamId, at } of readings) {
      const minute = minuteOf(at);
      const back = !this.runOf(streamId).ownTime && !this.book.knows(streamId) ? REPEATS_MS : 0;
      for (let start = minute - back; start <= minute; start += MINUTE_MS) if (!this.book.has(streamId, start)) wanted.set(`${streamId}/${start}`, { streamId, minute: start });
    }
    const stored = await loadChunks(tx, this.feed.plantId, [...wanted.values()]);
    const byMinute = new Map<string, StoredChunk[]>([...wanted.keys()].map((key) => [key, []]));
    for (const chunk of stored) byMinute.get(`${chunk.streamId}/${chunk.minute}`)?.push(chunk);
    for (const [key, { streamId, minute }] of wanted) this.book.open(streamId, minute, byMinute.get(key) ?? []);
  }
}
