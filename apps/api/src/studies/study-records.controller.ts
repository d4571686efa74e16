import { Controller, Inject } from '@nestjs/common';
import { getStudyRecord, keepCapabilityStudy, listStudyRecords as listEndpoint } from '#contract/capability-studies';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findStudyRecord, keepCapability, listStudyRecords } from './study-records.js';

@Controller()
export class StudyRecordsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(keepCapabilityStudy)
  keep(@Input() { body }: InputOf<typeof keepCapabilityStudy>, @SignedIn() session: Session) {
    return keepCapability(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(listEndpoint)
  async list(@Input() { query }: InputOf<typeof listEndpoint>, @SignedIn() session: Session) {
    return { studies: await listStudyRecords(this.work.read, session.plantId, query) };
  }

  @Endpoint(getStudyRecord)
  one(@Input() { params }: InputOf<typeof getStudyRecord>, @SignedIn() session: Session) {
    return findStudyRecord(this.work.read, session.plantId, params.recordId);
  }
}
