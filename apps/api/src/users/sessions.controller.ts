import { Controller, Inject, Req } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { endOwnSession, getSessionRule, listOwnSessions, lockSession, noteActivity, setSessionRule, unlockSession } from '#contract/sessions';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { confirmPassword } from './confirm-password.js';
import { sessionView } from './session.view.js';
import { deleteOpenSession, findIdleMinutes, listOpenSessions, putIdleMinutes, setLock } from './sessions.store.js';

@Controller()
export class SessionsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(lockSession)
  async lock(@SignedIn() { plantId, tokenHash }: Session) {
    await this.work.run((tx) => setLock(tx, plantId, tokenHash, true, this.clock.now()));
    return { done: true as const };
  }

  @Endpoint(unlockSession)
  async unlock(@Input() { body }: InputOf<typeof unlockSession>, @SignedIn() session: Session, @Req() request: Request) {
    const now = this.clock.now();
    await confirmPassword(this.work, { plantId: session.plantId, userId: session.person.id, login: session.person.login, from: request.ip }, body.password, now);
    await this.work.run((tx) => setLock(tx, session.plantId, session.tokenHash, false, now));
    return sessionView(this.work.read, { ...session, locked: false }, now);
  }

  /** The access guard has noted it already, as with every change. */
  @Endpoint(noteActivity)
  active() {
    return { done: true as const };
  }

  @Endpoint(listOwnSessions)
  async list(@SignedIn() { plantId, person, tokenHash }: Session) {
    return { sessions: await listOpenSessions(this.work.read, plantId, person.id, tokenHash, await findIdleMinutes(this.work.read, plantId), this.clock.now()) };
  }

  @Endpoint(endOwnSession)
  async end(@Input() { params }: InputOf<typeof endOwnSession>, @SignedIn() session: Session) {
    await this.work.run(async (tx) => {
      if (!(await deleteOpenSession(tx, session.plantId, session.person.id, params.session))) throw new Problem('not-found', 'You have no such session any more.');
      await record(tx, actorOf(session), 'session.ended', `user ${session.person.id}`, { after: { session: params.session } });
    });
    return { done: true as const };
  }

  @Endpoint(getSessionRule)
  async rule(@SignedIn() { plantId }: Session) {
    return { idleMinutes: await findIdleMinutes(this.work.read, plantId) };
  }

  @Endpoint(setSessionRule)
  async setRule(@Input() { body }: InputOf<typeof setSessionRule>, @SignedIn() session: Session) {
    await this.work.run(async (tx) => {
      const before = { idleMinutes: await findIdleMinutes(tx, session.plantId) };
      await putIdleMinutes(tx, session.plantId, body.idleMinutes);
      await record(tx, actorOf(session), 'session-rule.changed', `plant ${session.plantId}`, { before, after: body });
    });
    return body;
  }
}
