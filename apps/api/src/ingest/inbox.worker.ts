import { Inject, Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { CLOCK, type Clock } from '../platform/clock.js';
import { OnlyOne } from '../platform/only-one.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Rounds } from '../platform/rounds.js';
import { Work } from '../platform/work.js';
import { InboxFolder } from './inbox-folder.js';
import { findPlantOfFiles } from './ingest.store.js';
import { takeFile } from './take-file.js';

const POLL_MS = 2000;

/** Looks into the watched folder every two seconds, in one process of the installation. Polling, because notices of file systems do not come over network shares. */
@Injectable()
export class InboxWorker implements OnApplicationShutdown {
  private folder: InboxFolder | undefined;
  private readonly rounds = new Rounds('looking into the watched folder', () => this.look(), POLL_MS);
  private readonly closing = new AbortController();
  private readonly only: OnlyOne;
  private readonly broken = new Map<number, string>();
  private said: ReadonlySet<string> = new Set();

  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {
    this.only = new OnlyOne(work.databaseUrl, 'inbox');
  }

  /** Throws where the folder cannot be written. */
  async watch(folder: string): Promise<void> {
    this.folder = new InboxFolder(folder);
    await this.folder.prepare();
  }

  start(): void {
    this.rounds.start(POLL_MS);
  }

  /** One look; answers how many files were taken. What goes wrong with one file is said once, tried again at the next look, and holds up no other file. */
  async look(): Promise<number> {
    const { folder } = this;
    if (!folder || !(await this.only.held())) return 0;
    let taken = 0;
    const troubles: string[] = [];
    try {
      const plant = await findPlantOfFiles(this.work.read);
      if (!plant) return 0;
      for (const file of await folder.settled()) {
        if (this.closing.signal.aborted) return taken;
        try {
          await takeFile({ work: this.work, plant, folder, now: () => this.clock.now(), nudge: () => this.outbox.nudge(), broken: this.broken, closing: this.closing.signal }, file);
          taken += 1;
        } catch (error) {
          troubles.push(`${file.name} in the watched folder ${folder.folder} cannot be taken: ${lastLine(error)}`);
        }
      }
    } catch (error) {
      troubles.push(`the watched folder ${folder.folder} cannot be worked through: ${lastLine(error)}`);
    }
    this.say(troubles);
    return taken;
  }

  async onApplicationShutdown(): Promise<void> {
    this.closing.abort();
    await this.rounds.stop();
    await this.only.release();
  }

  private say(lines: readonly string[]): void {
    for (const line of lines) if (!this.said.has(line)) console.error(`seamledger: ${line}`);
    this.said = new Set(lines);
  }
}

const lastLine = (error: unknown): string | undefined => (error instanceof Error ? error.message.trim().split('\n').at(-1) : String(error));
