import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listOriginWeights, writeOriginWeights } from '#contract/origin-weights';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { writeWeights } from './origin-weights.js';
import { listWeightVersions } from './origin-weights.store.js';

@Controller()
export class OriginWeightsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listOriginWeights)
  async list(@SignedIn() session: Session) {
    return { versions: await listWeightVersions(this.work.read, session.plantId) };
  }

  @Endpoint(writeOriginWeights)
  write(@Input() { body }: InputOf<typeof writeOriginWeights>, @SignedIn() session: Session) {
    return this.work.run((tx) => writeWeights(tx, actorOf(session), body, this.clock.now()));
  }
}
