import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listReactionPlans, writeReactionPlan } from '#contract/reaction-plans';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { listPlans, writePlan } from './reaction-plans.js';

@Controller()
export class ReactionPlansController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listReactionPlans)
  async list(@Input() { query }: InputOf<typeof listReactionPlans>, @SignedIn() session: Session) {
    return { plans: await listPlans(this.work.read, session.plantId, { stream: query.stream, history: query.history === 'true' }) };
  }

  @Endpoint(writeReactionPlan)
  write(@Input() { body }: InputOf<typeof writeReactionPlan>, @SignedIn() session: Session) {
    return this.work.run((tx) => writePlan(tx, actorOf(session), body, this.clock.now()));
  }
}
