import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listWeldWindows, writeWeldWindow } from '#contract/weld-windows';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { writeWindow } from './weld-windows.js';
import { listWindowVersions } from './weld-windows.store.js';

@Controller()
export class WeldWindowsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listWeldWindows)
  async list(@SignedIn() session: Session) {
    return { windows: await listWindowVersions(this.work.read, session.plantId) };
  }

  @Endpoint(writeWeldWindow)
  write(@Input() { body }: InputOf<typeof writeWeldWindow>, @SignedIn() session: Session) {
    return this.work.run((tx) => writeWindow(tx, actorOf(session), body, this.clock.now()));
  }
}
