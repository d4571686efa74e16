import { Module } from '@nestjs/common';
import { CountersController } from './counters.controller.js';
import { DueChecksController } from './due-checks.controller.js';
import { ProductionController } from './production.controller.js';

@Module({ controllers: [ProductionController, CountersController, DueChecksController] })
export class ProductionModule {}
