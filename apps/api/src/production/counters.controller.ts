import { Controller, Inject } from '@nestjs/common';
import * as contract from '#contract/counters';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { type Acting, ActingBy, Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { refuseMachines } from '../platform/refuse-machines.js';
import { Work } from '../platform/work.js';
import { listCounterRows, listDecisionRows } from './counters.store.js';
import { placeByCode } from './place-by-code.js';
import { recordCounterReadings } from './record-counter-readings.js';
import { setCounter } from './set-counter.js';

@Controller()
export class CountersController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.recordCounterReadings)
  async record(@Input() { body }: InputOf<typeof contract.recordCounterReadings>, @ActingBy() acting: Acting) {
    const readings = await placeByCode(this.work.read, acting.plantId, 'readings', body.readings);
    refuseMachines(acting, readings.map(({ machineId }, row) => ({ machineId, field: `readings.${row}.machineId`, row: row + 1 })));
    return this.work.run((tx) => recordCounterReadings(tx, acting.actor, readings, this.clock.now()));
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
