import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { acknowledgeSignal, closeSignal, listSignals, reopenSignal } from '#contract/signals';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import type { SignalAction } from './lifecycle.js';
import { listPage } from './list-page.js';
import { findSignalRow } from './signal-pages.store.js';
import { stepSignal } from './step-signal.js';

@Controller()
export class SignalsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listSignals)
  list(@Input() { query }: InputOf<typeof listSignals>, @SignedIn() session: Session) {
    return listPage(this.work.read, session.plantId, query, this.clock.now(), session.scope);
  }

  @Endpoint(acknowledgeSignal)
  acknowledge(@Input() input: InputOf<typeof acknowledgeSignal>, @SignedIn() session: Session) {
    return this.step('acknowledge', input, session);
  }

  @Endpoint(closeSignal)
  close(@Input() input: InputOf<typeof closeSignal>, @SignedIn() session: Session) {
    return this.step('close', input, session);
  }

  @Endpoint(reopenSignal)
  reopen(@Input() input: InputOf<typeof reopenSignal>, @SignedIn() session: Session) {
    return this.step('reopen', input, session);
  }

  private async step(action: SignalAction, { params, body }: InputOf<typeof acknowledgeSignal>, session: Session) {
    const now = this.clock.now();
    await this.work.run((tx) => stepSignal(tx, actorOf(session), session.person.role, params.id, action, { seen: body.state, text: body.comment }, now));
    return findSignalRow(this.work.read, session.plantId, params.id, now);
  }
}
