import { Controller, Inject, Req, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { wallKinds } from '#contract/news';
import { Problem } from '#contract/problem';
import { createKiosk, getWallLive, listKiosks, openWall, revokeKiosk } from '#contract/wall';
import { WALL_COOKIE } from '../platform/access.guard.js';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { AtWall, Endpoint, Input, type Reply, type Request, type Session, SignedIn, type Wall } from '../platform/endpoint.js';
import { openEventStream } from '../platform/event-stream.js';
import { NewsFeed } from '../platform/news-feed.js';
import { hashToken } from '../platform/token.js';
import { Work } from '../platform/work.js';
import { endKiosk, makeKiosk } from './kiosks.js';
import { findWall, kioskView, listKioskRows } from './kiosks.store.js';

/** The longest that browsers keep a cookie; the screen renews it with each start. */
const COOKIE_SECONDS = 400 * 86_400;

@Controller()
export class KiosksController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(NewsFeed) private readonly feed: NewsFeed) {}

  @Endpoint(openWall)
  async open(@Input() { body }: InputOf<typeof openWall>, @Req() request: Request, @Res({ passthrough: true }) reply: Reply) {
    if (!(await findWall(this.work.read, hashToken(body.token), this.clock.now()))) throw new Problem('wrong-credentials', 'This token is unknown, revoked or expired.');
    reply.setCookie(WALL_COOKIE, body.token, { path: '/api/wall', httpOnly: true, sameSite: 'strict', secure: request.protocol === 'https', maxAge: COOKIE_SECONDS });
    return { done: true as const };
  }

  @Endpoint(getWallLive)
  async live(@AtWall() wall: Wall, @Req() request: Request, @Res() reply: Reply) {
    const tokenHash = hashToken(request.cookies[WALL_COOKIE] ?? '');
    await openEventStream(this.feed, request, reply, {
      plantId: wall.plantId,
      shown: ({ kind }) => (wallKinds.includes(kind) ? { event: 'board', data: {} } : null),
      mayStay: async () => (await findWall(this.work.read, tokenHash, this.clock.now())) !== null,
    });
  }

  @Endpoint(listKiosks)
  async list(@SignedIn() session: Session) {
    return (await listKioskRows(this.work.read, session.plantId)).map((row) => kioskView(row, this.clock.now()));
  }

  @Endpoint(createKiosk)
  create(@Input() { body }: InputOf<typeof createKiosk>, @SignedIn() session: Session) {
    return makeKiosk(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(revokeKiosk)
  revoke(@Input() { params }: InputOf<typeof revokeKiosk>, @SignedIn() session: Session) {
    return endKiosk(this.work, actorOf(session), params.id, this.clock.now());
  }
}
