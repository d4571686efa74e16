import { Controller, Inject, Req, Res } from '@nestjs/common';
import { getSession, signIn as signInContract, signOut } from '#contract/users';
import type { InputOf } from '#contract/endpoint';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Reply, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { SESSION_COOKIE } from '../platform/access.guard.js';
import { Work } from '../platform/work.js';
import { setSessionCookie } from './session-cookie.js';
import { sessionView } from './session.view.js';
import { signIn } from './sign-in.js';
import { deleteSession } from './users.store.js';

@Controller()
export class UsersController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getSession)
  session(@Req() request: Request) {
    return sessionView(this.work.read, request.session ?? null);
  }

  @Endpoint(signInContract)
  async signIn(@Input() { body }: InputOf<typeof signInContract>, @Req() request: Request, @Res({ passthrough: true }) reply: Reply) {
    const opened = await signIn(this.work, { ...body, from: request.ip }, this.clock.now());
    setSessionCookie(request, reply, opened);
    return sessionView(this.work.read, opened.token);
  }

  @Endpoint(signOut)
  async signOut(@SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    await this.work.run((tx) => deleteSession(tx, session.plantId, session.tokenHash));
    reply.clearCookie(SESSION_COOKIE, { path: '/' });
    return { done: true as const };
  }
}
