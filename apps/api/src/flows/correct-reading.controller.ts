import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { correctReading as correctReadingEndpoint, getCheck } from '#contract/inspections';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { checkPage } from './check-page.js';
import { correctReading } from './correct-reading.js';

@Controller()
export class CorrectReadingController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  @Endpoint(getCheck)
  page(@Input() { params }: InputOf<typeof getCheck>, @SignedIn() session: Session) {
    return checkPage(this.work.read, session.plantId, params.id);
  }

  @Endpoint(correctReadingEndpoint)
  async correct(@Input() { params, body }: InputOf<typeof correctReadingEndpoint>, @SignedIn() session: Session) {
    const { notRecomputed } = await this.work.run((tx) => correctReading(tx, actorOf(session), params.id, body, this.clock.now()));
    this.outbox.nudge();
    return { check: await checkPage(this.work.read, session.plantId, params.id), notRecomputed };
  }
}
