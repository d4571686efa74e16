import { Controller, Inject, Req, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { firstRun } from '#contract/users';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Reply, type Request } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { insertPlant } from '../plant/plant.store.js';
import { makeFirstAdministrator } from '../users/make-first-administrator.js';
import { setSessionCookie } from '../users/session-cookie.js';
import { sessionView } from '../users/session.view.js';

@Controller()
export class FirstRunController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(firstRun)
  async make(@Input() { body }: InputOf<typeof firstRun>, @Req() request: Request, @Res({ passthrough: true }) reply: Reply) {
    const opened = await makeFirstAdministrator(this.work, body, (tx) => insertPlant(tx, { name: body.plantName, timeZone: body.timeZone, demo: false }), this.clock.now());
    setSessionCookie(request, reply, opened);
    return sessionView(this.work.read, opened.token, this.clock.now());
  }
}
