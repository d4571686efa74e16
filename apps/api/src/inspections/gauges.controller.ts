import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listCalibrations, recordCalibration } from '#contract/gauge-calibrations';
import { changeGauge, createGauge } from '#contract/plant';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { addCalibration, calibrationsOf } from './calibrations.js';
import { addGauge, editGauge } from './gauges.js';

@Controller()
export class GaugesController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(createGauge)
  add(@Input() { body }: InputOf<typeof createGauge>, @SignedIn() session: Session) {
    return addGauge(this.work, actorOf(session), body);
  }

  @Endpoint(changeGauge)
  edit(@Input() { params, body }: InputOf<typeof changeGauge>, @SignedIn() session: Session) {
    return editGauge(this.work, actorOf(session), params.id, body, this.clock.now());
  }
  @Endpoint(recordCalibration)
  calibrate(@Input() { params, body }: InputOf<typeof recordCalibration>, @SignedIn() session: Session) {
    return addCalibration(this.work, actorOf(session), params.id, body, this.clock.now());
  }

  @Endpoint(listCalibrations)
  async calibrations(@Input() { params }: InputOf<typeof listCalibrations>, @SignedIn() session: Session) {
    return { calibrations: await calibrationsOf(this.work.read, session.plantId, params.id) };
  }
}
