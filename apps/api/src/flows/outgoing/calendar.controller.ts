import { Controller, Inject, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getCalendar } from '#contract/outgoing';
import { Problem } from '#contract/problem';
import { findCalendarPlant } from '../../outgoing/calendar-addresses.store.js';
import { writeCalendar } from '../../outgoing/calendar.js';
import { CLOCK, type Clock } from '../../platform/clock.js';
import { Endpoint, Input, type Reply } from '../../platform/endpoint.js';
import { hashToken } from '../../platform/token.js';
import { Work } from '../../platform/work.js';
import { upcomingChecks } from './upcoming-checks.js';

@Controller()
export class CalendarController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getCalendar)
  async calendar(@Input() { params }: InputOf<typeof getCalendar>, @Res() reply: Reply) {
    const found = await findCalendarPlant(this.work.read, hashToken(params.token));
    if (!found) throw new Problem('not-found', 'This calendar address is unknown or was ended.');
    const events = await upcomingChecks(this.work.read, found.plantId, this.clock.now());
    void reply.type('text/calendar; charset=utf-8').send(writeCalendar(`Due checks, ${found.plant}`, events));
  }
}
