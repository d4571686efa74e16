import { Module } from '@nestjs/common';
import { WALL_READER, type WallReader } from '../platform/access.guard.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { hashToken } from '../platform/token.js';
import { Work } from '../platform/work.js';
import { KiosksController } from './kiosks.controller.js';
import { findWall } from './kiosks.store.js';
import { OutgoingController } from './outgoing.controller.js';

@Module({
  controllers: [KiosksController, OutgoingController],
  providers: [{
    provide: WALL_READER, inject: [Work, CLOCK],
    useFactory: (work: Work, clock: Clock): WallReader => ({ find: (token) => findWall(work.read, hashToken(token), clock.now()) }),
  }],
  exports: [WALL_READER],
})
export class OutgoingModule {}
