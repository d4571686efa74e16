import { type DynamicModule, Module } from '@nestjs/common';
import { CLOCK, type Clock } from './clock.js';
import { NewsFeed } from './news-feed.js';
import { NOTHING_OUTWARD, OUTWARD, type Outward } from './outward.js';
import { PlatformController } from './platform.controller.js';
import { Work } from './work.js';

/** What every feature may ask for: the database, the clock, the news. */
@Module({})
export class PlatformModule {
  static with(parts: { work: Work; clock: Clock; outward?: Outward }): DynamicModule {
    const providers = [{ provide: Work, useValue: parts.work }, { provide: CLOCK, useValue: parts.clock }, { provide: NewsFeed, useValue: new NewsFeed(parts.work) }, { provide: OUTWARD, useValue: parts.outward ?? NOTHING_OUTWARD }];
    return { module: PlatformModule, global: true, controllers: [PlatformController], providers, exports: [Work, CLOCK, NewsFeed, OUTWARD] };
  }
}
