import { Controller, Inject, Req, Res } from '@nestjs/common';
import { changePassword, changeUser, createUser, getSession, listAudit as listAuditContract, listUsers, signIn as signInContract, signOut } from '#contract/users';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { listAudit } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Reply, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { SESSION_COOKIE } from '../platform/access.guard.js';
import { Work } from '../platform/work.js';
import { setSessionCookie } from './session-cookie.js';
import { sessionView } from './session.view.js';
import { signIn } from './sign-in.js';
import { changeOwnPassword, changeAccount, makeAccount } from './accounts.js';
import { listAccounts } from './accounts.store.js';
import { deleteSession } from './users.store.js';

@Controller()
export class UsersController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getSession)
  session(@Req() request: Request) {
    return sessionView(this.work.read, request.session ?? null, this.clock.now());
  }

  @Endpoint(signInContract)
  async signIn(@Input() { body }: InputOf<typeof signInContract>, @Req() request: Request, @Res({ passthrough: true }) reply: Reply) {
    const opened = await signIn(this.work, { ...body, from: request.ip, agent: request.headers['user-agent'] }, this.clock.now());
    setSessionCookie(request, reply, opened);
    return sessionView(this.work.read, opened.token, this.clock.now());
  }

  @Endpoint(signOut)
  async signOut(@SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    await this.work.run((tx) => deleteSession(tx, session.plantId, session.tokenHash));
    reply.clearCookie(SESSION_COOKIE, { path: '/' });
    return { done: true as const };
  }

  @Endpoint(changePassword)
  async changePassword(@Input() { body }: InputOf<typeof changePassword>, @SignedIn() session: Session, @Req() request: Request) {
    await changeOwnPassword(this.work, actorOf(session), { ...body, login: session.person.login, from: request.ip, keepSession: session.tokenHash }, this.clock.now());
    return { done: true as const };
  }

  @Endpoint(listUsers)
  list(@SignedIn() session: Session) {
    return listAccounts(this.work.read, session.plantId);
  }

  @Endpoint(createUser)
  create(@Input() { body }: InputOf<typeof createUser>, @SignedIn() session: Session) {
    return makeAccount(this.work, actorOf(session), body);
  }

  @Endpoint(changeUser)
  change(@Input() { params, body }: InputOf<typeof changeUser>, @SignedIn() session: Session) {
    return changeAccount(this.work, actorOf(session), params.id, body, this.clock.now());
  }

  @Endpoint(listAuditContract)
  async audit(@Input() { query }: InputOf<typeof listAuditContract>, @SignedIn() session: Session) {
    const rows = await listAudit(this.work.read, session.plantId, { subject: query.subject, beforeId: query.before, take: query.take });
    return rows.map((row) => ({ ...row, at: row.at.toISOString() }));
  }
}
