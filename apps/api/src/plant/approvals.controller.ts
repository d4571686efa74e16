import { Controller, Inject } from '@nestjs/common';
import { setSecondPerson } from '#contract/approvals';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { needsSecondPerson, updateSecondPerson } from './approvals.store.js';

@Controller()
export class ApprovalsController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(setSecondPerson)
  secondPerson(@Input() { body: { secondPerson, reason } }: InputOf<typeof setSecondPerson>, @SignedIn() session: Session) {
    return this.work.run(async (tx) => {
      const before = await needsSecondPerson(tx, session.plantId);
      await record(tx, actorOf(session), 'approval.changed', `plant ${session.plantId}`, { before: { secondPerson: before }, after: { secondPerson, reason } });
      return updateSecondPerson(tx, session.plantId, secondPerson);
    });
  }
}
