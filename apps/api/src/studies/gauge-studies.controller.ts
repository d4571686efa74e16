import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { changeStudyThresholds, enterTrial, finishGaugeStudy, getBlindSheet, getStudyThresholds, listGaugeStandings, planGaugeStudy } from '#contract/gauge-studies';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { blindSheetOf } from './blind-sheet.js';
import { calibrationState } from './gauge-standing.js';
import { findCalibrationAt, listGaugesInUse } from './gauge-standing.store.js';
import { finishGauge, planGauge, takeTrial } from './gauge-studies.js';
import { setThresholds, thresholdsOf } from './study-thresholds.js';

@Controller()
export class GaugeStudiesController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(planGaugeStudy)
  plan(@Input() { body }: InputOf<typeof planGaugeStudy>, @SignedIn() session: Session) {
    return planGauge(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(getBlindSheet)
  sheet(@Input() { params, query }: InputOf<typeof getBlindSheet>, @SignedIn() session: Session) {
    return blindSheetOf(this.work.read, session.plantId, params.recordId, query.person);
  }

  @Endpoint(enterTrial)
  enter(@Input() { params, body }: InputOf<typeof enterTrial>, @SignedIn() session: Session) {
    return takeTrial(this.work, actorOf(session), params.recordId, body, this.clock.now());
  }

  @Endpoint(finishGaugeStudy)
  finish(@Input() { params }: InputOf<typeof finishGaugeStudy>, @SignedIn() session: Session) {
    return finishGauge(this.work, actorOf(session), params.recordId, this.clock.now());
  }

  @Endpoint(getStudyThresholds)
  thresholds(@SignedIn() session: Session) {
    return thresholdsOf(this.work.read, session.plantId);
  }

  @Endpoint(changeStudyThresholds)
  changeThresholds(@Input() { body }: InputOf<typeof changeStudyThresholds>, @SignedIn() session: Session) {
    return setThresholds(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(listGaugeStandings)
  async gauges(@SignedIn() session: Session) {
    const [at, { plantId }, found] = [this.clock.now(), session, await listGaugesInUse(this.work.read, session.plantId)];
    const gauges = [];
    for (const gauge of found) {
      const last = await findCalibrationAt(this.work.read, plantId, gauge.id, at);
      gauges.push({ ...gauge, calibration: last ? calibrationState(last, at) : 'not-known' as const, calibratedAt: last?.calibratedAt?.toISOString() ?? null, dueAt: last?.dueAt?.toISOString() ?? null, certificate: last?.certificate ?? null });
    }
    return { gauges };
  }
}
