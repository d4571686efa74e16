import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { changeStream as changeStreamEndpoint, getStreamVariation, takeOverPlan as takeOverPlanEndpoint } from '#contract/planner';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { changeStream } from './change-stream.js';
import { streamVariation } from './stream-variation.js';
import { takeOverPlan } from './take-over-plan.js';

@Controller()
export class PlannerController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  @Endpoint(getStreamVariation)
  variation(@Input() { params, query }: InputOf<typeof getStreamVariation>, @SignedIn() session: Session) {
    return streamVariation(this.work.read, session.plantId, params.id, query, this.clock.now());
  }

  @Endpoint(changeStreamEndpoint)
  async change(@Input() { params, body }: InputOf<typeof changeStreamEndpoint>, @SignedIn() session: Session) {
    const changed = await this.work.run((tx) => changeStream(tx, actorOf(session), params.id, body));
    this.outbox.nudge();
    return changed;
  }

  @Endpoint(takeOverPlanEndpoint)
  async takeOver(@Input() { params, body }: InputOf<typeof takeOverPlanEndpoint>, @SignedIn() session: Session) {
    const taken = await this.work.run((tx) => takeOverPlan(tx, actorOf(session), params.id, body, this.clock.now()));
    this.outbox.nudge();
    return taken;
  }
}
