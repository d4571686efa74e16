import { gatherMail } from '../../outgoing/gather-mail.js';
import { releaseQuiet } from '../../outgoing/release-quiet.js';
import type { Clock } from '../../platform/clock.js';
import type { OutboxWorker } from '../../platform/outbox.worker.js';
import type { Outward } from '../../platform/outward.js';
import { Rounds } from '../../platform/rounds.js';
import type { Work } from '../../platform/work.js';
import { tellOverdue } from './tell-overdue.js';

const EVERY_MS = 20_000;

/** What only time brings: checks that fall due, the end of quiet hours, and e-mails whose time has come. Any number of processes may run one. */
export class OutgoingWorker {
  private readonly rounds = new Rounds('telling of overdue checks and gathering e-mails', () => this.look(), EVERY_MS);

  /** `lane` sends; it is apart from the other reactions, because a receiver may be slow. */
  constructor(private readonly work: Work, private readonly clock: Clock, private readonly outward: Outward, readonly lane: OutboxWorker) {}

  start(): void {
    this.lane.start();
    this.rounds.start(1000);
  }

  async stop(): Promise<void> {
    await this.rounds.stop();
    await this.lane.stop();
  }

  /** One round; public so that tests can wait for it. */
  async look(): Promise<void> {
    await tellOverdue(this.work, this.clock.now(), this.outward.publicUrl);
    await releaseQuiet(this.work, this.clock.now());
    if (this.outward.smtp !== null) await gatherMail(this.work, this.outward.publicUrl, this.clock.now());
  }
}
