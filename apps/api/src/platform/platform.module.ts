import { type DynamicModule, Module } from '@nestjs/common';
import { CLOCK, type Clock } from './clock.js';
import { NewsFeed } from './news-feed.js';
import { PlatformController } from './platform.controller.js';
import { Work } from './work.js';

/** What every feature may ask for: the database, the clock, the news. */
@Module({})
export class PlatformModule {
  static with(parts: { work: Work; clock: Clock }): DynamicModule {
    const providers = [{ provide: Work, useValue: parts.work }, { provide: CLOCK, useValue: parts.clock }, { provide: NewsFeed, useValue: new NewsFeed(parts.work) }];
    return { module: PlatformModule, global: true, controllers: [PlatformController], providers, exports: [Work, CLOCK, NewsFeed] };
  }
}
