import { Inject, Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { Problem } from '#contract/problem';
import { endJob, giveBack, type PackJob, reportProgress, takeJob } from '../../packs/pack-jobs.store.js';
import { CLOCK, type Clock } from '../../platform/clock.js';
import { Rounds } from '../../platform/rounds.js';
import { Work } from '../../platform/work.js';
import { freezePack } from './freeze-pack.js';
import { storePack } from './make-pack.js';

const POLL_MS = 1000;
/** Well below the silence after which another worker takes over. */
const HEARTBEAT_MS = 5000;

/** Cancelled, taken over by another process, or this one is being stopped. */
class Stopped extends Error {}

/** Makes packs that were asked for, one at a time, oldest first. Any number of processes may run one. */
@Injectable()
export class PackJobsWorker implements OnApplicationShutdown {
  private readonly rounds = new Rounds('making packs', () => this.drain(), POLL_MS);
  private closing = false;

  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  start(): void {
    if (!this.closing) this.rounds.start(POLL_MS);
  }

  /** Makes everything that waits; answers how many jobs were taken. Public so that tests can wait for it. */
  async drain(): Promise<number> {
    for (let taken = 0; taken < 100; taken += 1) {
      const job = this.closing ? null : await takeJob(this.work.read);
      if (!job) return taken;
      await this.make(job);
    }
    return 100;
  }

  async make(job: PackJob): Promise<void> {
    const { work } = this;
    let [lost, done, total] = [false, 0, 0];
    const report = async () => { if (!(await reportProgress(work.read, job, done, total))) lost = true; };
    const beat = setInterval(() => void report().catch(() => {}), HEARTBEAT_MS);
    try {
      const content = await freezePack(work, job.plantId, job.request, { id: job.askedBy, name: job.askedByName }, this.clock.now(), async (now, of) => {
        [done, total] = [now, of];
        await report();
        if (lost || this.closing) throw new Stopped();
      });
      await storePack(work, { plantId: job.plantId, userId: job.askedBy, name: job.askedByName }, content, job);
    } catch (error) {
      if (error instanceof Stopped) { if (!lost) await giveBack(work.read, job); return; }
      const known = error instanceof Problem ? (error.detail ?? error.message) : null;
      if (known === null) console.error(`seamledger: making pack job ${job.id} failed: ${error instanceof Error ? error.stack : String(error)}`);
      await endJob(work.read, job, { state: 'failed', error: known ?? 'Something went wrong on our side: ask for the pack again, and tell whoever runs the server.' });
    } finally {
      clearInterval(beat);
    }
  }

  async onApplicationShutdown(): Promise<void> {
    this.closing = true;
    await this.rounds.stop();
  }
}
