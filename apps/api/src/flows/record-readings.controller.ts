import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getCheckVerdict, recordCheck } from '#contract/inspections';
import { CLOCK, type Clock } from '../platform/clock.js';
import { type Acting, ActingBy, Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { refuseMachines } from '../platform/refuse-machines.js';
import { checkVerdict } from './check-verdict.js';
import { recordReadings } from './record-readings.js';
import { loadCodes, resolveCodes } from './resolve-codes.js';

@Controller()
export class RecordReadingsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  @Endpoint(recordCheck)
  async record(@Input() { body }: InputOf<typeof recordCheck>, @ActingBy() acting: Acting) {
    const check = resolveCodes(body, await loadCodes(this.work.read, acting.plantId));
    refuseMachines(acting, [{ machineId: check.machineId, field: 'machine' }]);
    const recorded = await this.work.run((tx) => recordReadings(tx, acting.actor, [check], { now: this.clock.now(), source: acting.source }));
    this.outbox.nudge();
    return checkVerdict(this.work.read, acting.plantId, recorded.checkIds[0] as number, recorded.repeated[0] as boolean);
  }

  @Endpoint(getCheckVerdict)
  verdict(@Input() { params }: InputOf<typeof getCheckVerdict>, @SignedIn() session: Session) {
    return checkVerdict(this.work.read, session.plantId, params.id, true);
  }
}
