import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listLineEvents, recordLineEvent as recordLineEventContract, recordProductionCounts } from '#contract/production';
import { CLOCK, type Clock } from '../platform/clock.js';
import { type Acting, ActingBy, Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { refuseMachines } from '../platform/refuse-machines.js';
import { Work } from '../platform/work.js';
import { placeByCode, placeEvent } from './place-by-code.js';
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
  async recordEvent(@Input() { body }: InputOf<typeof recordLineEventContract>, @ActingBy() acting: Acting) {
    const event = await placeEvent(this.work.read, acting.plantId, body);
    refuseMachines(acting, [{ machineId: event.machineId, field: 'machineId' }]);
    const id = await this.work.run((tx) => recordLineEvent(tx, acting.actor, event, this.clock.now()));
    return findEvent(this.work.read, acting.plantId, id);
  }

  @Endpoint(recordProductionCounts)
  async counts(@Input() { body }: InputOf<typeof recordProductionCounts>, @ActingBy() acting: Acting) {
    const counts = await placeByCode(this.work.read, acting.plantId, 'counts', body.counts);
    refuseMachines(acting, counts.map(({ machineId }, row) => ({ machineId, field: `counts.${row}.machineId`, row: row + 1 })));
    return this.work.run((tx) => recordCounts(tx, acting.actor, counts, this.clock.now()));
  }
}
