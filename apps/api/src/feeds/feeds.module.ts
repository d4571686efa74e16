import { Module } from '@nestjs/common';
import { FeedsController } from './feeds.controller.js';

@Module({ controllers: [FeedsController] })
export class FeedsModule {}
