import { Controller, Inject, Req } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { signRecords as signRecordsEndpoint, verifyRecordsEndpoint } from '#contract/records';
import { deletePastRetention as deletePastRetentionEndpoint, deleteRecordsPast as deleteRecordsPastEndpoint } from '#contract/retention';
import { signerOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { deletePastRetention } from './delete-past-retention.js';
import { deleteRecordsPast } from './delete-records-past.js';
import { signRecords } from './sign-records.js';
import { type Verification, verifyPlant } from './verify-records.js';

const LISTED = 200;

@Controller()
export class RecordsFlowController {
  /** One verification of a plant at a time: it reads everything. */
  private readonly running = new Map<number, Promise<Verification>>();

  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(signRecordsEndpoint)
  async sign(@Input() { body }: InputOf<typeof signRecordsEndpoint>, @SignedIn() session: Session, @Req() request: Request) {
    const ids = await signRecords(this.work, signerOf(session, request), body, this.clock.now());
    return { signed: ids.length, signatures: ids };
  }

  @Endpoint(deletePastRetentionEndpoint)
  deletePast(@Input() { body }: InputOf<typeof deletePastRetentionEndpoint>, @SignedIn() session: Session, @Req() request: Request) {
    return deletePastRetention(this.work, signerOf(session, request), body, this.clock.now());
  }

  @Endpoint(deleteRecordsPastEndpoint)
  deleteRecords(@Input() { body }: InputOf<typeof deleteRecordsPastEndpoint>, @SignedIn() session: Session, @Req() request: Request) {
    return deleteRecordsPast(this.work, signerOf(session, request), body, this.clock.now());
  }

  @Endpoint(verifyRecordsEndpoint)
  async verify(@SignedIn() session: Session) {
    const running = this.running.get(session.plantId) ?? verifyPlant(this.work, session.plantId).finally(() => this.running.delete(session.plantId));
    this.running.set(session.plantId, running);
    const { auditFaults, checkFaults, recordFaults, ...found } = await running;
    return { ...found, at: this.clock.now().toISOString(), auditFaults: auditFaults.slice(0, LISTED), checkFaults: checkFaults.slice(0, LISTED), recordFaults: recordFaults.slice(0, LISTED), faults: auditFaults.length + checkFaults.length + recordFaults.length };
  }
}
