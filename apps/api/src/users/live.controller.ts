import { Controller, Inject, Req, Res } from '@nestjs/common';
import { newsReaders } from '#contract/news';
import { getLive } from '#contract/platform';
import { SESSION_COOKIE, SESSION_READER, type SessionReader } from '../platform/access.guard.js';
import { Endpoint, type Reply, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { openEventStream } from '../platform/event-stream.js';
import { NewsFeed } from '../platform/news-feed.js';

@Controller()
export class LiveController {
  constructor(@Inject(NewsFeed) private readonly feed: NewsFeed, @Inject(SESSION_READER) private readonly sessions: SessionReader) {}

  @Endpoint(getLive)
  async events(@SignedIn() session: Session, @Req() request: Request, @Res() reply: Reply) {
    let { role } = session.person;
    await openEventStream(this.feed, request, reply, {
      plantId: session.plantId,
      shown: ({ kind, id }) => (newsReaders[kind]?.includes(role) ? { event: kind, data: { id } } : null),
      mayStay: async () => {
        const now = await this.sessions.find(request.cookies[SESSION_COOKIE] ?? '');
        if (now) role = now.person.role;
        return now !== null;
      },
    });
  }
}
