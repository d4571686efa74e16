import { Module } from '@nestjs/common';
import { HoldsController } from './holds.controller.js';

@Module({ controllers: [HoldsController] })
export class HoldsModule {}
