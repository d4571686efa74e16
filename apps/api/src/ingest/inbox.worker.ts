import { Inject, Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { CLOCK, type Clock } from '../platform/clock.js';
import { OnlyOne } from '../platform/only-one.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Rounds } from '../platform/rounds.js';
import { Work } from '../platform/work.js';
import { InboxFolder } from './inbox-folder.js';
import { findPlantOfFiles } from './ingest.store.js';
import { SortingThreads } from './sorting-threads.js';
import { takeFile } from './take-file.js';

const POLL_MS = 2000;
const MOST_LOOKS = 150;

type Tries = { tries: number; /** Those that its own import failed. */ failures: number; looksToWait: number };

/** Looks into the watched folder every two seconds, in one process of the installation. Polling, because notices of file systems do not come over network shares. */
@Injectable()
export class InboxWorker implements OnApplicationShutdown {
  private folder: InboxFolder | undefined;
  private readonly rounds = new Rounds('looking into the watched folder', () => this.look(), POLL_MS);
  private readonly closing = new AbortController();
  private readonly only: OnlyOne;
  private readonly broken = new Map<number, string>();
  private readonly tried = new Map<string, Tries>();
  private said: ReadonlySet<string> = new Set();

  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker, @Inject(SortingThreads) private readonly threads: SortingThreads) {
    this.only = new OnlyOne(work.databaseUrl, 'inbox');
  }

  /** Throws where the folder cannot be written. */
  async watch(folder: string): Promise<void> {
    this.folder = new InboxFolder(folder);
    await this.folder.prepare();
  }

  start(): void {
    if (!this.closing.signal.aborted) this.rounds.start(POLL_MS);
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
      const files = await folder.settled();
      for (const name of this.tried.keys()) if (!files.some((file) => file.name === name)) this.tried.delete(name);
      for (const file of files) {
        if (this.closing.signal.aborted) return taken;
        const before = this.tried.get(file.name) ?? { tries: 0, failures: 0, looksToWait: 0 };
        if (before.looksToWait > 0) { before.looksToWait -= 1; continue; }
        try {
          const outcome = await takeFile({ failures: before.failures, work: this.work, threads: this.threads, plant, folder, now: () => this.clock.now(), nudge: () => this.outbox.nudge(), broken: this.broken, closing: this.closing.signal }, file);
          taken += 1;
          if (outcome === 'moved') this.tried.delete(file.name);
          else this.noteTry(file.name, before, outcome === 'failed');
        } catch (error) {
          this.noteTry(file.name, before, false);
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

  /** Tried again at the next two looks, then after ever more of them, some five minutes apart in the end. */
  private noteTry(name: string, { tries, failures }: Tries, failed: boolean): void {
    this.tried.set(name, { tries: tries + 1, failures: failures + (failed ? 1 : 0), looksToWait: tries < 2 ? 0 : Math.min(MOST_LOOKS, 2 ** (tries - 1)) });
  }

  private say(lines: readonly string[]): void {
    for (const line of lines) if (!this.said.has(line)) console.error(`seamledger: ${line}`);
    this.said = new Set(lines);
  }
}

const lastLine = (error: unknown): string | undefined => (error instanceof Error ? error.message.trim().split('\n').at(-1) : String(error));
