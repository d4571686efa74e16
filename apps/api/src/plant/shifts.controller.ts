import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listShifts, setShifts } from '#contract/shifts';
import { actorOf } from '../platform/actor.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { putShifts, shiftsOf } from './shifts.js';

@Controller()
export class ShiftsController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listShifts)
  async list(@SignedIn() session: Session) {
    return { shifts: await shiftsOf(this.work.read, session.plantId) };
  }

  @Endpoint(setShifts)
  async put(@Input() { body }: InputOf<typeof setShifts>, @SignedIn() session: Session) {
    return { shifts: await putShifts(this.work, actorOf(session), body.shifts) };
  }
}
