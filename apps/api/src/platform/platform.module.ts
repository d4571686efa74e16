import { type DynamicModule, Module } from '@nestjs/common';
import { CLOCK, type Clock } from './clock.js';
import { Live } from './live.js';
import { PlatformController } from './platform.controller.js';
import { Work } from './work.js';

/** What every feature may ask for: the database, the clock, the live line. */
@Module({})
export class PlatformModule {
  static with(parts: { work: Work; clock: Clock }): DynamicModule {
    const providers = [{ provide: Work, useValue: parts.work }, { provide: CLOCK, useValue: parts.clock }, Live];
    return { module: PlatformModule, global: true, controllers: [PlatformController], providers, exports: [Work, CLOCK, Live] };
  }
}
