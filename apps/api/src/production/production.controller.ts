import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listLineEvents, recordLineEvent as recordLineEventContract, recordProductionCounts } from '#contract/production';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findEvent, listEvents } from './production.store.js';
import { recordCounts } from './record-counts.js';
import { recordLineEvent } from './record-line-event.js';

@Controller()
export class ProductionController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listLineEvents)
  async events(@Input() { query }: InputOf<typeof listLineEvents>, @SignedIn() session: Session) {
    return { events: await listEvents(this.work.read, session.plantId, query) };
  }

  @Endpoint(recordLineEventContract)
  async recordEvent(@Input() { body }: InputOf<typeof recordLineEventContract>, @SignedIn() session: Session) {
    const id = await this.work.run((tx) => recordLineEvent(tx, actorOf(session), body, this.clock.now()));
    return findEvent(this.work.read, session.plantId, id);
  }

  @Endpoint(recordProductionCounts)
  counts(@Input() { body }: InputOf<typeof recordProductionCounts>, @SignedIn() session: Session) {
    return this.work.run((tx) => recordCounts(tx, actorOf(session), body.counts, this.clock.now()));
  }
}
