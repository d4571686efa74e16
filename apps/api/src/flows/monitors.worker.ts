import { endLease, type Lease, takeLease, writeConnection } from '../monitors/feed-state.store.js';
import { listRunnable, listTopics, type RunnableFeed } from '../monitors/monitors.store.js';
import { trimPlantsQuarantine } from '../monitors/trim-quarantine.js';
import { dropOldBodies } from '../monitors/drop-old-bodies.js';
import type { Clock } from '../platform/clock.js';
import { Rounds } from '../platform/rounds.js';
import type { Work } from '../platform/work.js';
import { listPlants } from '../users/users.store.js';
import { type Committed, FeedRunner, newOwner } from './feed-runner.js';

const POLL_MS = 2000;
const RETENTION_MS = 3_600_000;
const TRIM_MS = 20_000;

/**
 * Runs the feeds of all plants, each in one process at a time: each process may have a worker, and a lease in the
 * database says who runs what. A process that stops gives its leases back, so another one takes its feeds over at
 * its next look, 2 s after the last one ended. Where the process died, or the database was away when it stopped, that is
 * the first look after the lease has run out, 15 s after it was renewed last (LEASE_SECONDS).
 */
export class MonitorsWorker {
  private readonly owner = newOwner();
  private readonly runners = new Map<string, FeedRunner>();
  private readonly rounds = new Rounds('looking after the feeds', () => this.look(), POLL_MS);
  /** Feeds whose definition cannot be read, with the lease that lets them say so. */
  private readonly broken = new Map<string, Lease>();
  private readonly trimming = new Rounds('keeping the quarantine within its bounds', () => this.trim(), TRIM_MS);
  /** Apart from the looks: a month may take minutes to drop, and feeds are to be looked after meanwhile. */
  private readonly dropping = new Rounds('dropping old every-body readings', () => dropOldBodies(this.work, this.clock.now()), RETENTION_MS);
  private stopped = true;
  /** Told of each committed batch; for those who measure. */
  committed: (batch: Committed) => void = () => {};

  constructor(private readonly work: Work, private readonly clock: Clock, private readonly environment: NodeJS.ProcessEnv = process.env) {}

  start(): void {
    this.stopped = false;
    this.rounds.start();
    this.trimming.start();
    this.dropping.start();
  }

  /** Gives the feeds back before it waits for a month that is being dropped: another process may take them at once. */
  async stop(): Promise<void> {
    this.stopped = true;
    const others = [this.trimming.stop(), this.dropping.stop()];
    await this.rounds.stop();
    await Promise.all([...this.runners.values()].map((runner) => runner.stop()));
    this.runners.clear();
    for (const lease of this.broken.values()) await endLease(this.work.read, lease).catch(() => {});
    this.broken.clear();
    await Promise.all(others);
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
    for (const [key, lease] of this.broken) if (!feeds.has(key)) { this.broken.delete(key); await endLease(this.work.read, lease); }
  }

  /** Of every plant: what came before a feed was switched off grows old, too. */
  private async trim(): Promise<void> {
    for (const { id } of await listPlants(this.work.read)) await trimPlantsQuarantine(this.work, id, this.clock.now());
  }

  private async take(key: string, feed: RunnableFeed): Promise<void> {
    const lease: Lease = { plantId: feed.plantId, feedId: feed.id, owner: this.owner };
    if (!(await takeLease(this.work.read, lease))) return;
    let runner: FeedRunner;
    try {
      const topics = await listTopics(this.work.read, feed.plantId, feed.id);
      runner = new FeedRunner({ work: this.work, clock: this.clock, feed, topics, lease, environment: this.environment, committed: (batch) => this.committed(batch) });
    } catch (error) {
      // This feed alone stands still, and says why; it is looked at again each time, for somebody may mend it.
      this.broken.set(key, lease);
      await writeConnection(this.work.read, lease, 'refused', error instanceof Error ? error.message : String(error));
      return;
    }
    this.broken.delete(key);
    this.runners.set(key, runner);
    runner.start();
  }
}
