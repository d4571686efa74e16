import { Controller, Inject, Res } from '@nestjs/common';
import { allEndpoints } from '#contract/all-endpoints';
import { getDocs, getHealth, getOpenApi, getVersion } from '#contract/platform';
import { Endpoint, type Reply } from './endpoint.js';
import { checkHealth } from './health.js';
import { docsPage } from './docs-page.js';
import { openApi } from './open-api.js';
import { version } from './version.js';
import { Work } from './work.js';

@Controller()
export class PlatformController {
  private readonly document = openApi(allEndpoints, version);

  constructor(@Inject(Work) private readonly work: Work) {}

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
}
