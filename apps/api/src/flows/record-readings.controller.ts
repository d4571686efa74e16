import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getCheckVerdict, recordCheck } from '#contract/inspections';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { actorOf } from '../platform/actor.js';
import { checkVerdict } from './check-verdict.js';
import { floorVerdict } from './floor-verdict.js';
import { recordReadings } from './record-readings.js';

@Controller()
export class RecordReadingsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  @Endpoint(recordCheck)
  async record(@Input() { body }: InputOf<typeof recordCheck>, @SignedIn() session: Session) {
    const recorded = await this.work.run((tx) => recordReadings(tx, actorOf(session), [body], { now: this.clock.now(), source: 'entry' }));
    this.outbox.nudge();
    return checkVerdict(this.work.read, session.plantId, recorded.checkIds[0] as number, recorded.repeated[0] as boolean);
  }

  @Endpoint(getCheckVerdict)
  verdict(@Input() { params }: InputOf<typeof getCheckVerdict>, @SignedIn() session: Session) {
    return floorVerdict(this.work.read, session.plantId, params.id, this.clock.now());
  }
}
