import { claim, finish, type Lane, postpone, type OutboxRow } from './outbox.js';
import { Rounds } from './rounds.js';
import type { Work } from './work.js';

export type Reaction = (row: OutboxRow) => Promise<void>;

/**
 * Delivers outbox rows to their reactions, at least once, oldest first. Any number of processes may run one: rows are
 * claimed with SKIP LOCKED. `nudge()` right after a commit saves waiting for the next poll.
 */
export class OutboxWorker {
  private readonly rounds: Rounds;

  constructor(private readonly work: Work, private readonly reactions: Readonly<Record<string, readonly Reaction[]>>, pollMs = 500, private readonly lane: Lane = { but: [] }, private readonly take = 50) {
    this.rounds = new Rounds('delivering what follows from changes', () => this.drain(), pollMs);
  }

  start(): void {
    this.rounds.start();
  }

  nudge(): void {
    this.rounds.nudge();
  }

  stop(): Promise<void> {
    return this.rounds.stop();
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
}
