import { randomUUID } from 'node:crypto';
import { endLease, holdLease, type Lease, writeConnection } from '../monitors/feed-state.store.js';
import { minuteOf } from '../monitors/minute-book.js';
import type { RunnableFeed, RunnableTopic } from '../monitors/monitors.store.js';
import { type Arrived, connectMqtt, type ConnectionState, type MqttConnection } from '../monitors/mqtt-connection.js';
import { insertRefused, listReplays, settleReplay } from '../monitors/quarantine.store.js';
import type { Clock } from '../platform/clock.js';
import { asProblem } from '../platform/problem.filter.js';
import type { Work } from '../platform/work.js';
import { FOLD_AFTER_MS, foldMinutes } from './fold-minutes.js';
import { FeedRun } from './feed-run.js';
import { LostLease, type Message, takeMessages } from './take-messages.js';

/** So many messages, or bytes of them, may wait; then the broker's bytes stay in the socket until half of them are stored. */
const QUEUE_MESSAGES = 20_000;
const QUEUE_BYTES = 32 * 1024 * 1024;
/** A batch ends at so many messages or bytes, when nothing came for a moment, or when its first message has waited long enough. */
const [BATCH_MESSAGES, BATCH_BYTES, QUIET_MS, LINGER_MS] = [2000, 4 * 1024 * 1024, 10, 200];
const [BEAT_MS, FIRST_PAUSE_MS, LONGEST_PAUSE_MS, TRIES_TOGETHER, REPLAYS] = [2000, 100, 5000, 3, 100];

/** So long a stop waits for a commit before it lets go of the broker, which then sends the batch again. */
const STOP_MS = 3000;

type Waiting = { message: Message; acknowledge(): void };
export type Committed = { messages: readonly Message[]; at: number; queued: number };
export type RunnerParts = { work: Work; clock: Clock; feed: RunnableFeed; topics: readonly RunnableTopic[]; lease: Lease; environment: NodeJS.ProcessEnv; committed(batch: Committed): void };

/** Runs one feed: takes what the connection brings in batches, one transaction each, and acknowledges after the commit. */
export class FeedRunner {
  private readonly run: FeedRun;
  private queue: Waiting[] = [];
  private queuedBytes = 0;
  private resume: (() => void) | undefined;
  private wake: (() => void) | undefined;
  private lastArrival = 0;
  private connection: MqttConnection | undefined;
  private state: ConnectionState = { state: 'connecting', detail: '' };
  private stopping = false;
  private foldedMinute = 0;
  private nextBeat = 0;
  private failures = 0;
  private readonly asked = new Set<number>();
  private ended: Promise<void> = Promise.resolve();
  /** True once the runner has ended by itself: another process has the feed. */
  lost = false;

  constructor(private readonly parts: RunnerParts) {
    this.run = new FeedRun(parts.feed, parts.lease, parts.topics, () => parts.clock.now());
  }

  get revision(): number {
    return this.parts.feed.revision;
  }

  start(): void {
    const { feed, topics, environment } = this.parts;
    this.connection = connectMqtt({
      feed, environment, filters: topics.map(({ filter }) => filter), take: (arrived) => this.take(arrived),
      changed: (state) => { this.state = state; this.nextBeat = 0; this.wake?.(); },
    });
    this.ended = this.loop();
  }

  /** Finishes the batch under way; what still waits was not acknowledged, so the broker sends it again. */
  async stop(): Promise<void> {
    this.stopping = true;
    this.wake?.();
    this.resume?.();
    // The connection stays until the batch under way is committed and acknowledged, unless the database keeps it waiting.
    await Promise.race([this.ended, sleep(STOP_MS)]);
    await this.connection?.stop();
    await this.ended;
    if (!this.lost) await endLease(this.parts.work.read, this.parts.lease).catch(() => {});
  }

  private take({ topic, payload, retained, acknowledge }: Arrived): Promise<void> | null {
    const now = this.parts.clock.now().getTime();
    this.push({ message: { topic, payload, retained, receivedAt: now }, acknowledge });
    if (this.queue.length < QUEUE_MESSAGES && this.queuedBytes < QUEUE_BYTES) return null;
    return new Promise((resolve) => { this.resume = resolve; });
  }

  private push(waiting: Waiting): void {
    this.queue.push(waiting);
    this.queuedBytes += waiting.message.payload.length;
    this.lastArrival = performance.now();
    if (this.queue.length === 1) this.wake?.();
  }

  private async loop(): Promise<void> {
    while (!this.stopping && !this.lost) {
      try {
        if (this.queue.length > 0) await this.takeBatch();
        if (this.stopping) break;
        if (performance.now() >= this.nextBeat) await this.beat();
        const more = await this.fold();
        this.failures = 0;
        if (this.queue.length === 0 && !more) await this.pause(this.nextBeat - performance.now());
      } catch (error) {
        this.run.reset();
        if (error instanceof LostLease) this.lost = true;
        else {
          this.failures += 1;
          await this.pause(Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(this.failures, 10)), true);
        }
      }
    }
    if (this.lost) void this.connection?.stop();
  }

  private async takeBatch(): Promise<void> {
    const began = performance.now();
    while (!this.stopping && this.queue.length < BATCH_MESSAGES && performance.now() - this.lastArrival < QUIET_MS && performance.now() - began < LINGER_MS) await sleep(5);
    let [take, bytes] = [0, 0];
    while (take < this.queue.length && take < BATCH_MESSAGES && bytes < BATCH_BYTES) {
      bytes += this.queue[take]?.message.payload.length ?? 0;
      take += 1;
    }
    const batch = this.queue.slice(0, take);
    if (this.failures >= TRIES_TOGETHER && (await this.databaseAnswers())) await this.takeOneByOne(batch);
    else await this.commit(batch);
  }

  private async commit(batch: readonly Waiting[]): Promise<void> {
    const messages = batch.map(({ message }) => message);
    await this.parts.work.run((tx) => takeMessages(tx, this.run, messages, this.parts.clock.now()));
    this.settle(batch);
  }

  private settle(batch: readonly Waiting[]): void {
    this.queue = this.queue.slice(batch.length);
    for (const { message, acknowledge } of batch) {
      this.queuedBytes -= message.payload.length;
      if (message.replay) this.asked.delete(message.replay.id);
      acknowledge();
    }
    this.parts.committed({ messages: batch.map(({ message }) => message), at: Date.now(), queued: this.queue.length });
    if (this.resume && this.queue.length < QUEUE_MESSAGES / 2 && this.queuedBytes < QUEUE_BYTES / 2) {
      this.resume();
      this.resume = undefined;
    }
  }

  /** A batch that fails though the database answers holds a message that the program cannot take: that one alone goes to the quarantine. */
  private async takeOneByOne(batch: readonly Waiting[]): Promise<void> {
    const { work, feed, clock } = this.parts;
    for (const waiting of batch) {
      try {
        await this.commit([waiting]);
      } catch (error) {
        this.run.reset();
        if (error instanceof LostLease || isAway(error) || !(await this.databaseAnswers())) throw error;
        const reason = `the program failed on it: ${error instanceof Error ? error.message.slice(0, 500) : String(error)}`;
        const { replay, topic, payload, receivedAt } = waiting.message;
        await work.run((tx) => (replay ? settleReplay(tx, feed.plantId, replay.id, clock.now(), reason) : insertRefused(tx, feed.plantId, feed.id, { topic, payload, receivedAt: new Date(receivedAt), reason })));
        this.settle([waiting]);
      }
    }
  }

  /** Says that it is alive and how it stands, and takes up what a person asked to be taken once more. */
  private async beat(): Promise<void> {
    const { work, lease, feed } = this.parts;
    this.nextBeat = performance.now() + BEAT_MS;
    const replays = await work.run(async (tx) => {
      if (!(await holdLease(tx, lease))) throw new LostLease('another process runs the feed');
      await writeConnection(tx, lease, this.state.state, this.state.detail);
      return listReplays(tx, feed.plantId, feed.id, feed.revision, REPLAYS);
    });
    for (const { id, asMeasured, topic, payload, receivedAt } of replays) {
      if (this.asked.has(id)) continue;
      this.asked.add(id);
      this.push({ message: { topic, payload: new Uint8Array(payload), retained: false, receivedAt: receivedAt.getTime(), replay: { id, asMeasured } }, acknowledge() {} });
    }
  }

  /** Whether there is more to fold at once. */
  private async fold(): Promise<boolean> {
    const now = this.parts.clock.now();
    const minute = minuteOf(now.getTime() - FOLD_AFTER_MS);
    if (minute === this.foldedMinute) return false;
    // One slice a turn: a fold of thousands of minutes must not keep messages waiting.
    if (await foldMinutes(this.parts.work, this.run, now)) return true;
    this.foldedMinute = minute;
    return false;
  }

  private databaseAnswers(): Promise<boolean> {
    return this.parts.work.read.$queryRaw`SELECT 1`.then(() => true, () => false);
  }

  private pause(ms: number, whatever = false): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(done, Math.max(1, ms));
      function done() { clearTimeout(timer); resolve(); }
      this.wake = () => { if (!whatever || this.stopping) done(); };
    });
  }
}

/** The connection broke or the disk is full: no fault of a message, however often it fails. */
function isAway(error: unknown): boolean {
  return ['database-unavailable', 'disk-full'].includes(asProblem(error).code) || (error instanceof Error && /\b57P0[123]\b|\b53100\b|No space left/.test(error.message));
}

export const newOwner = (): string => `${process.pid} ${randomUUID()}`;
const sleep = (ms: number) => new Promise<void>((resolve) => { setTimeout(resolve, ms); });
