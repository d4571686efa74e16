import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import * as contract from '#contract/holds';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { type Tx, Work } from '../platform/work.js';
import { addPallets, dispose, move, place, reopen, sample, sampleSize } from './change-hold.js';
import { computeFor } from './hold-arithmetic.js';
import { holdView, listHoldRows } from './hold-pages.store.js';
import type { Holder } from './holds.store.js';

@Controller()
export class HoldsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.listHolds)
  list(@Input() { query }: InputOf<typeof contract.listHolds>, @SignedIn() session: Session) {
    return listHoldRows(this.work.read, session.plantId, query);
  }

  @Endpoint(contract.planHoldSample)
  plan(@Input() { query }: InputOf<typeof contract.planHoldSample>) {
    return sampleSize(query);
  }

  @Endpoint(contract.getHold)
  get(@Input() { params }: InputOf<typeof contract.getHold>, @SignedIn() session: Session) {
    return holdView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.computeHold)
  compute(@Input() { body }: InputOf<typeof contract.computeHold>, @SignedIn() session: Session) {
    return computeFor(this.work.read, session.plantId, body);
  }

  @Endpoint(contract.placeHold)
  async place(@Input() { body }: InputOf<typeof contract.placeHold>, @SignedIn() session: Session) {
    const id = await this.work.run((tx) => place(tx, holderOf(session), body, this.clock.now()));
    return holdView(this.work.read, session.plantId, id);
  }

  @Endpoint(contract.moveHold)
  move(@Input() { params, body }: InputOf<typeof contract.moveHold>, @SignedIn() session: Session) {
    return this.change(session, params.id, (tx, holder, now) => move(tx, holder, params.id, body, now));
  }

  @Endpoint(contract.addHoldPallets)
  add(@Input() { params, body }: InputOf<typeof contract.addHoldPallets>, @SignedIn() session: Session) {
    return this.change(session, params.id, (tx, holder, now) => addPallets(tx, holder, params.id, body, now));
  }

  @Endpoint(contract.sampleHold)
  sample(@Input() { params, body }: InputOf<typeof contract.sampleHold>, @SignedIn() session: Session) {
    return this.change(session, params.id, (tx, holder, now) => sample(tx, holder, params.id, body, now));
  }

  @Endpoint(contract.disposeHold)
  dispose(@Input() { params, body }: InputOf<typeof contract.disposeHold>, @SignedIn() session: Session) {
    return this.change(session, params.id, (tx, holder, now) => dispose(tx, holder, params.id, body, now));
  }

  @Endpoint(contract.reopenHold)
  reopen(@Input() { params, body }: InputOf<typeof contract.reopenHold>, @SignedIn() session: Session) {
    return this.change(session, params.id, (tx, holder, now) => reopen(tx, holder, params.id, body, now));
  }

  private async change(session: Session, id: number, act: (tx: Tx, holder: Holder, now: Date) => Promise<void>) {
    await this.work.run((tx) => act(tx, holderOf(session), this.clock.now()));
    return holdView(this.work.read, session.plantId, id);
  }
}

const holderOf = (session: Session): Holder => ({ ...actorOf(session), role: session.person.role });
