import { Problem } from '#contract/problem';
import { insertJournal } from '../monitors/body-chunks.store.js';
import { addCounts, type FeedCounts, holdLease, noCounts } from '../monitors/feed-state.store.js';
import { insertMessageKey } from '../monitors/monitors.store.js';
import { encodeJournal } from '../monitors/journal-bytes.js';
import { type MappedMessage, MessageFault } from '../monitors/map-message.js';
import { type BodyReading, MINUTE_MS, minuteOf } from '../monitors/minute-book.js';
import { insertRefused, settleReplay } from '../monitors/quarantine.store.js';
import type { Formed } from '../monitors/subgroup-former.js';
import type { StreamIdentity } from '../inspections/place-readings.js';
import { attempt } from '../platform/attempt.js';
import type { Tx } from '../platform/work.js';
import { recordCounts } from '../production/record-counts.js';
import { recordLineEvent } from '../production/record-line-event.js';
import { type FeedRun, newestOf, type TopicRun } from './feed-run.js';
import type { FeedReferences } from './feed-references.js';
import { lockOrMakeStreams } from './lock-or-make-streams.js';
import { recordMonitorSubgroups } from './monitor-subgroups.js';

export type Message = { topic: string; payload: Uint8Array<ArrayBuffer>; retained: boolean; receivedAt: number; /** A message of the quarantine that is taken once more. */ replay?: { id: number; asMeasured: boolean } };
/** Another process runs the feed now: whatever is in memory here is old. */
export class LostLease extends Error {
  override readonly name = 'LostLease';
}
/** Bodies come within seconds; what comes later than this after its minute is counted as late. */
const LATE_MS = 30_000;

type Understood = { message: Message; topic: TopicRun; mapped: MappedMessage };
type BodyOf = { message: Message; place: { stream: StreamIdentity; at: number; count: number | null; value: number } };

/**
 * Takes a batch of messages inside the caller's transaction: readings into the journal and their minutes, complete
 * subgroups stored and judged, counts and line events entered, and what cannot be taken into the quarantine with its
 * reason. After the commit all of them may be acknowledged. When it throws, the run's memory must be reset.
 */
export async function takeMessages(tx: Tx, run: FeedRun, messages: readonly Message[], now: Date): Promise<void> {
  if (!(await holdLease(tx, run.lease))) throw new LostLease('another process runs the feed');
  await run.load(tx);
  const counts = noCounts();
  const refused = new Map<Message, string>();
  const references = await run.known(tx, now);
  const understood = messages.flatMap((message) => understand(run, message, references, refused, counts));

  const formed = await takeReadings(tx, run, understood, references, refused, counts, now);
  await recordMonitorSubgroups(tx, run.actor, formed.map(({ streamId, at, readings }) => ({ stream: run.runOf(streamId).identity, at, readings })), now);
  counts.subgroups += formed.length;
  for (const entry of understood) {
    if (entry.mapped.kind === 'readings') continue;
    const reason = await takeOther(tx, run, entry, now, counts);
    if (reason !== null) refused.set(entry.message, reason);
  }

  for (const [message, reason] of refused) if (!message.replay) await insertRefused(tx, run.feed.plantId, run.feed.id, { topic: message.topic, payload: message.payload, receivedAt: new Date(message.receivedAt), reason });
  for (const message of messages) if (message.replay) await settleReplay(tx, run.feed.plantId, message.replay.id, now, refused.get(message) ?? null);
  counts.messages += messages.length;
  counts.refused += refused.size;
  // What the broker kept and what is taken once more is no sign that the devices are alive.
  const isHeard = messages.some(({ retained, replay }) => !retained && !replay);
  await addCounts(tx, run.lease, counts, isHeard ? now : null, understood.findLast(({ message, mapped }) => !message.replay && mapped.clockMs !== null)?.mapped.clockMs ?? null);
}

function understand(run: FeedRun, message: Message, references: FeedReferences, refused: Map<Message, string>, counts: FeedCounts): Understood[] {
  // The broker kept it for whoever comes: it is old news, and was taken when it was new.
  if (message.retained) {
    counts.retained += 1;
    return [];
  }
  try {
    const topic = run.topicOf(message.topic);
    if (!topic) throw new MessageFault('no mapping of this feed takes the topic');
    const mapped = topic.map(message.payload, message.receivedAt);
    if (mapped.serverTimed) counts.serverTimed += 1;
    if (mapped.kind === 'readings' && !message.replay?.asMeasured) references.refuseImplausible(topic, mapped);
    if (mapped.kind === 'readings') references.refuseUnknownProduct(topic, mapped);
    return [{ message, topic, mapped }];
  } catch (error) {
    if (!(error instanceof MessageFault)) throw error;
    refused.set(message, error.message);
    return [];
  }
}

async function takeReadings(tx: Tx, run: FeedRun, understood: readonly Understood[], references: FeedReferences, refused: Map<Message, string>, counts: FeedCounts, now: Date): Promise<Formed[]> {
  const bodies = understood.flatMap((entry) => bodiesOf(entry, references));
  if (bodies.length === 0) return [];
  await learnStreams(tx, run, bodies);
  const readings = bodies.map(({ message, place }) => ({ message, reading: { streamId: run.streamId(place.stream) as number, at: place.at, count: place.count, value: place.value } }));
  await run.openMinutes(tx, readings.map(({ reading }) => reading));
  const fresh: BodyReading[] = [];
  const formed: Formed[] = [];
  for (const { message, reading } of readings) {
    const former = run.former(reading.streamId);
    const { grouping, ownTime } = run.runOf(reading.streamId);
    // A subgroup of a minute that was folded is as it was judged: what comes later of it is in the chunk alone.
    const start = reading.count === null ? null : former.groupStart(reading.count);
    const settled = !former.isForming(reading) && (reading.count === null ? run.book.wasStored(reading.streamId, reading.at) : start !== null && run.book.wasStoredWith(reading.streamId, reading.at, start, grouping.size));
    const added = run.book.add(reading, !ownTime);
    if (added === 'repeated') counts.repeated += 1;
    else if (added !== 'new') refused.set(message, `${reading.count === null ? `the moment ${new Date(reading.at).toISOString()}` : `body ${reading.count}`} is stored already, with ${added.stored} and not ${reading.value}: what is stored stays`);
    else {
      fresh.push(reading);
      if (minuteOf(reading.at) + MINUTE_MS + LATE_MS < now.getTime()) counts.late += 1;
      if (!settled) formed.push(...former.add(reading));
    }
  }
  if (fresh.length > 0) {
    const entries = fresh.map((reading) => ({ ...reading, forming: false }));
    run.journal.push({ id: await insertJournal(tx, run.feed.plantId, run.feed.id, encodeJournal(entries)), newest: newestOf(entries) });
  }
  counts.readings += fresh.length;
  return formed;
}

function bodiesOf({ message, topic, mapped }: Understood, references: FeedReferences): BodyOf[] {
  if (mapped.kind !== 'readings' || topic.mapping.kind !== 'readings') return [];
  const { channels } = topic.mapping;
  return mapped.bodies.flatMap(({ at, count, product, values }) => channels.flatMap(({ characteristicId, laneId, unitId }, index) => {
    const value = values[index];
    if (value === null || value === undefined) return [];
    return [{ message, place: { stream: { characteristicId, productId: references.productId(topic, product), machineId: topic.machineId, laneId, unitId }, at, count, value } }];
  }));
}

/** Ids of the streams that are fed for the first time since the start; those that are not there yet are made. */
async function learnStreams(tx: Tx, run: FeedRun, bodies: readonly BodyOf[]): Promise<void> {
  const unknown = bodies.filter(({ place }) => run.streamId(place.stream) === undefined).map(({ place }) => place.stream);
  if (unknown.length === 0) return;
  for (const stream of (await lockOrMakeStreams(tx, run.feed.plantId, unknown)).values()) run.learn(stream.id, stream);
}

/** Answers why it was refused, or null. */
async function takeOther(tx: Tx, run: FeedRun, { topic, mapped }: Understood, now: Date, counts: FeedCounts): Promise<string | null> {
  try {
    return await attempt(tx, async () => {
      if (mapped.kind === 'counts') {
        const { same } = await recordCounts(tx, run.actor, [mapped.count], now);
        counts.repeated += same;
      }
      if (mapped.kind === 'line-event') {
        const fresh = await insertMessageKey(tx, run.feed.plantId, topic.id, mapped.key, now);
        if (fresh) await recordLineEvent(tx, run.actor, { ...mapped.event, lineId: topic.lineId, machineId: topic.machineId, until: null }, now);
        else counts.repeated += 1;
      }
      return null;
    });
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return error.errors?.map(({ field, expected }) => `${field}: needs ${expected}`).join('; ') ?? error.message;
  }
}
