import { type Lease, takeLease } from '../monitors/feed-state.store.js';
import { listRunnable, listTopics, type RunnableFeed } from '../monitors/monitors.store.js';
import { dropOldBodies } from '../monitors/drop-old-bodies.js';
import type { Clock } from '../platform/clock.js';
import { Rounds } from '../platform/rounds.js';
import type { Work } from '../platform/work.js';
import { type Committed, FeedRunner, newOwner } from './feed-runner.js';

const POLL_MS = 2000;
const RETENTION_MS = 3_600_000;

/**
 * Runs the feeds of all plants, each in one process at a time: any number of processes may have a worker, and a lease in
 * the database says who runs what. A feed whose process stopped is taken over at the next look (each 2 s); where the
 * process died, at the first look after its lease has run out, 15 s after it was renewed last (LEASE_SECONDS).
 */
export class MonitorsWorker {
  private readonly owner = newOwner();
  private readonly runners = new Map<string, FeedRunner>();
  private readonly rounds = new Rounds('looking after the feeds', () => this.look(), POLL_MS);
  private dropping: Promise<unknown> = Promise.resolve();
  private stopped = true;
  private nextRetention = 0;
  /** Told of each committed batch; for those who measure. */
  committed: (batch: Committed) => void = () => {};

  constructor(private readonly work: Work, private readonly clock: Clock, private readonly environment: NodeJS.ProcessEnv = process.env) {}

  start(): void {
    this.stopped = false;
    this.rounds.start();
  }

  async stop(): Promise<void> {
    this.stopped = true;
    await this.rounds.stop();
    await this.dropping;
    await Promise.all([...this.runners.values()].map((runner) => runner.stop()));
    this.runners.clear();
  }

  /** While the database is away nothing is taken up; what runs waits by itself. */
  private async look(): Promise<void> {
    const feeds = new Map((await listRunnable(this.work.read)).map((feed) => [`${feed.plantId}/${feed.id}`, feed]));
    for (const [key, runner] of this.runners) {
      const feed = feeds.get(key);
      if (feed && feed.revision === runner.revision && !runner.lost) continue;
      await runner.stop();
      this.runners.delete(key);
    }
    for (const [key, feed] of feeds) if (!this.stopped && !this.runners.has(key)) await this.take(key, feed);
    if (this.stopped || performance.now() < this.nextRetention) return;
    this.nextRetention = performance.now() + RETENTION_MS;
    // Not waited for: a month may take minutes to drop, and feeds are to be looked after meanwhile.
    this.dropping = this.dropping.then(() => dropOldBodies(this.work, this.clock.now())).catch(() => {});
  }

  private async take(key: string, feed: RunnableFeed): Promise<void> {
    const lease: Lease = { plantId: feed.plantId, feedId: feed.id, owner: this.owner };
    if (!(await takeLease(this.work.read, lease))) return;
    const topics = await listTopics(this.work.read, feed.plantId, feed.id);
    const runner = new FeedRunner({ work: this.work, clock: this.clock, feed, topics, lease, environment: this.environment, committed: (batch) => this.committed(batch) });
    this.runners.set(key, runner);
    runner.start();
  }
}
