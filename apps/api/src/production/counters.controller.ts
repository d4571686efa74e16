import { Controller, Inject } from '@nestjs/common';
import * as contract from '#contract/counters';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { listCounterRows, listDecisionRows } from './counters.store.js';
import { recordCounterReadings } from './record-counter-readings.js';
import { setCounter } from './set-counter.js';

@Controller()
export class CountersController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.recordCounterReadings)
  record(@Input() { body }: InputOf<typeof contract.recordCounterReadings>, @SignedIn() session: Session) {
    return this.work.run((tx) => recordCounterReadings(tx, actorOf(session), body.readings, this.clock.now()));
  }

  @Endpoint(contract.listCounters)
  async counters(@SignedIn() session: Session) {
    return { counters: await listCounterRows(this.work.read, session.plantId, this.clock.now()) };
  }

  @Endpoint(contract.listCounterDecisions)
  async decisions(@Input() { query }: InputOf<typeof contract.listCounterDecisions>, @SignedIn() session: Session) {
    return { decisions: await listDecisionRows(this.work.read, session.plantId, query.machine ?? null) };
  }

  @Endpoint(contract.setCounter)
  state(@Input() { params, body }: InputOf<typeof contract.setCounter>, @SignedIn() session: Session) {
    return this.work.run((tx) => setCounter(tx, actorOf(session), params.id, body, this.clock.now()));
  }
}
