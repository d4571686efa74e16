import { Module } from '@nestjs/common';
import { FEED_READER, type FeedReader } from '../platform/access.guard.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Work } from '../platform/work.js';
import { takeFeedRequest } from './feed-tokens.store.js';
import { FeedsController } from './feeds.controller.js';

@Module({
  controllers: [FeedsController],
  providers: [{
    provide: FEED_READER, inject: [Work, CLOCK],
    useFactory: (work: Work, clock: Clock): FeedReader => ({ take: (token) => takeFeedRequest(work.read, token, clock.now()) }),
  }],
  exports: [FEED_READER],
})
export class FeedsModule {}
