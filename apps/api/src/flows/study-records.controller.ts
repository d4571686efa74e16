import { Controller, Inject, Req } from '@nestjs/common';
import { keepBeforeAfterStudy, setStudyAside, stepStudyRecord } from '#contract/capability-studies';
import type { InputOf } from '#contract/endpoint';
import { actorOf, signerOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { keepBeforeAfter } from './keep-before-after.js';
import { setAside, stepStudy } from './step-study.js';

@Controller()
export class StudyRecordsFlowController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(keepBeforeAfterStudy)
  keep(@Input() { body }: InputOf<typeof keepBeforeAfterStudy>, @SignedIn() session: Session) {
    return keepBeforeAfter(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(stepStudyRecord)
  step(@Input() { params, body }: InputOf<typeof stepStudyRecord>, @SignedIn() session: Session, @Req() request: Request) {
    return stepStudy(this.work, signerOf(session, request), params.recordId, body, this.clock.now());
  }

  @Endpoint(setStudyAside)
  aside(@Input() { params, body }: InputOf<typeof setStudyAside>, @SignedIn() session: Session) {
    return setAside(this.work, actorOf(session), params.recordId, body.reason, this.clock.now());
  }
}
