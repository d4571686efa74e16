import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listFeedTokens, makeFeedToken as makeContract, revokeFeedToken as revokeContract } from '#contract/feeds';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { listFeedTokenViews } from './feed-tokens.store.js';
import { makeFeedToken } from './make-feed-token.js';
import { revokeFeedToken } from './revoke-feed-token.js';

@Controller()
export class FeedsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listFeedTokens)
  list(@SignedIn() session: Session) {
    return listFeedTokenViews(this.work.read, session.plantId, this.clock.now());
  }

  @Endpoint(makeContract)
  make(@Input() { body }: InputOf<typeof makeContract>, @SignedIn() session: Session) {
    return makeFeedToken(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(revokeContract)
  revoke(@Input() { params, body }: InputOf<typeof revokeContract>, @SignedIn() session: Session) {
    return revokeFeedToken(this.work, actorOf(session), params.id, body.reason, this.clock.now());
  }
}
