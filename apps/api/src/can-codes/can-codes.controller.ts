import { Controller, Inject } from '@nestjs/common';
import * as contract from '#contract/can-codes';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { decodeForPlant, patternsView, retire, savePattern, tryPattern } from './can-codes.js';

@Controller()
export class CanCodesController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.listCanCodePatterns)
  async list(@SignedIn() session: Session) {
    return { patterns: await patternsView(this.work.read, session.plantId, this.clock.now()) };
  }

  @Endpoint(contract.previewCanCode)
  try(@Input() { body }: InputOf<typeof contract.previewCanCode>, @SignedIn() session: Session) {
    return tryPattern(this.work.read, session.plantId, body, this.clock.now());
  }

  @Endpoint(contract.saveCanCodePattern)
  async save(@Input() { body }: InputOf<typeof contract.saveCanCodePattern>, @SignedIn() session: Session) {
    return { id: await this.work.run((tx) => savePattern(tx, actorOf(session), body, this.clock.now())) };
  }

  @Endpoint(contract.retireCanCodePattern)
  async retire(@Input() { params, body }: InputOf<typeof contract.retireCanCodePattern>, @SignedIn() session: Session) {
    return { id: await this.work.run((tx) => retire(tx, actorOf(session), params.id, body.reason, this.clock.now())) };
  }

  @Endpoint(contract.decodeCanCode)
  decode(@Input() { query }: InputOf<typeof contract.decodeCanCode>, @SignedIn() session: Session) {
    return decodeForPlant(this.work.read, session.plantId, query);
  }
}
