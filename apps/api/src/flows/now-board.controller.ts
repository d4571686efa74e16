import { Controller, Inject } from '@nestjs/common';
import { getNow } from '#contract/signals';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { nowBoard } from './now-board.js';

@Controller()
export class NowBoardController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getNow)
  now(@SignedIn() session: Session) {
    return nowBoard(this.work.read, session.plantId, this.clock.now());
  }
}
