import { Controller, Inject, Req, Res } from '@nestjs/common';
import { allEndpoints } from '#contract/all-endpoints';
import { getDocs, getHealth, getLive, getOpenApi, getVersion } from '#contract/platform';
import { Endpoint, type Reply, type Request, type Session, SignedIn } from './endpoint.js';
import { checkHealth } from './health.js';
import { Live } from './live.js';
import { docsPage } from './docs-page.js';
import { openApi } from './open-api.js';
import { version } from './version.js';
import { Work } from './work.js';

@Controller()
export class PlatformController {
  private readonly document = openApi(allEndpoints, version);

  constructor(@Inject(Work) private readonly work: Work, @Inject(Live) private readonly live: Live) {}

  @Endpoint(getHealth)
  health() {
    return checkHealth(this.work);
  }

  @Endpoint(getVersion)
  version() {
    return { version, node: process.version, statistics: version, canmaking: version };
  }

  @Endpoint(getOpenApi)
  openApi() {
    return this.document;
  }

  @Endpoint(getDocs)
  docs(@Res() reply: Reply) {
    void reply.type('text/html; charset=utf-8').send(docsPage(this.document));
  }

  @Endpoint(getLive)
  events(@SignedIn() session: Session, @Req() request: Request, @Res() reply: Reply) {
    reply.hijack();
    reply.raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' });
    reply.raw.write('retry: 3000\n\n');
    const deaf = this.live.listen((news) => {
      if (news.plantId === session.plantId) reply.raw.write(`event: ${news.kind}\ndata: ${JSON.stringify({ id: news.id })}\n\n`);
    });
    const beat = setInterval(() => reply.raw.write(': still here\n\n'), 20_000);
    request.raw.once('close', () => { deaf(); clearInterval(beat); });
  }
}
