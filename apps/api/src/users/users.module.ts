import { Module } from '@nestjs/common';
import { CLOCK, type Clock } from '../platform/clock.js';
import { SESSION_READER, type SessionReader } from '../platform/access.guard.js';
import { Work } from '../platform/work.js';
import { LiveController } from './live.controller.js';
import { UsersController } from './users.controller.js';
import { findSession } from './users.store.js';

@Module({
  controllers: [LiveController, UsersController],
  providers: [{
    provide: SESSION_READER, inject: [Work, CLOCK],
    useFactory: (work: Work, clock: Clock): SessionReader => ({ find: (token) => findSession(work.read, token, clock.now()) }),
  }],
  exports: [SESSION_READER],
})
export class UsersModule {}
