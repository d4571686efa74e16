import { claim, finish, type Lane, postpone, type OutboxRow } from './outbox.js';
import type { Work } from './work.js';

export type Reaction = (row: OutboxRow) => Promise<void>;

/**
 * Delivers outbox rows to their reactions, at least once, oldest first. Any number of processes may run one: rows are
 * claimed with SKIP LOCKED. `nudge()` right after a commit saves waiting for the next poll.
 */
export class OutboxWorker {
  private timer: NodeJS.Timeout | undefined;
  private running: Promise<void> | undefined;
  private stopped = true;

  constructor(private readonly work: Work, private readonly reactions: Readonly<Record<string, readonly Reaction[]>>, private readonly pollMs = 500, private readonly lane: Lane = { but: [] }, private readonly take = 50) {}

  start(): void {
    this.stopped = false;
    this.schedule(0);
  }

  nudge(): void {
    if (!this.stopped && !this.running) this.schedule(0);
  }

  async stop(): Promise<void> {
    this.stopped = true;
    clearTimeout(this.timer);
    await this.running;
  }

  /** One round; answers how many rows were handled. Public so that tests can wait for the reactions. */
  async drain(): Promise<number> {
    let handled = 0;
    for (let round = 0; round < 1000; round += 1) {
      const batch = await this.work.run(async (tx) => {
        const rows = await claim(tx, this.take, this.lane);
        for (const row of rows) {
          try {
            for (const react of this.reactions[row.kind] ?? []) await react(row);
            await finish(tx, row);
          } catch (error) {
            await postpone(tx, row, error instanceof Error ? error.message : String(error));
          }
        }
        return rows.length;
      }, 60_000);
      handled += batch;
      if (batch < this.take) break;
    }
    return handled;
  }

  private schedule(delay: number): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.running = this.drain().then(() => {}, () => {}).finally(() => {
        this.running = undefined;
        if (!this.stopped) this.schedule(this.pollMs);
      });
    }, delay);
  }
}
