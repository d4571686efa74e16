import { gatherMail } from '../../outgoing/gather-mail.js';
import type { Clock } from '../../platform/clock.js';
import type { OutboxWorker } from '../../platform/outbox.worker.js';
import type { Outward } from '../../platform/outward.js';
import type { Work } from '../../platform/work.js';
import { tellOverdue } from './tell-overdue.js';

const EVERY_MS = 20_000;

/** What only time brings: checks that fall due, and e-mails whose time has come. Any number of processes may run one. */
export class OutgoingWorker {
  private timer: NodeJS.Timeout | undefined;
  private running: Promise<void> | undefined;
  private stopped = true;

  /** `lane` sends; it is apart from the other reactions, because a receiver may be slow. */
  constructor(private readonly work: Work, private readonly clock: Clock, private readonly outward: Outward, readonly lane: OutboxWorker) {}

  start(): void {
    this.stopped = false;
    this.lane.start();
    this.schedule(1000);
  }

  async stop(): Promise<void> {
    this.stopped = true;
    clearTimeout(this.timer);
    await this.running;
    await this.lane.stop();
  }

  /** One round; public so that tests can wait for it. */
  async look(): Promise<void> {
    await tellOverdue(this.work, this.clock.now(), this.outward.publicUrl);
    if (this.outward.smtp !== null) await gatherMail(this.work, this.outward.publicUrl, this.clock.now());
  }

  private schedule(delay: number): void {
    this.timer = setTimeout(() => {
      this.running = this.look().catch(() => {}).finally(() => {
        this.running = undefined;
        if (!this.stopped) this.schedule(EVERY_MS);
      });
    }, delay).unref();
  }
}
