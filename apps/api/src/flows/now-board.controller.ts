import { Controller, Inject } from '@nestjs/common';
import { getNow } from '#contract/signals';
import { getWall } from '#contract/wall';
import { CLOCK, type Clock } from '../platform/clock.js';
import { AtWall, Endpoint, type Session, SignedIn, type Wall } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { nowBoard } from './now-board.js';
import { wallBoard } from './wall-board.js';

@Controller()
export class NowBoardController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getNow)
  now(@SignedIn() session: Session) {
    return nowBoard(this.work.read, session.plantId, this.clock.now());
  }

  @Endpoint(getWall)
  wall(@AtWall() wall: Wall) {
    return wallBoard(this.work.read, wall, this.clock.now());
  }
}
