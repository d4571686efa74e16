import { Module } from '@nestjs/common';
import { CountersController } from './counters.controller.js';
import { ProductionController } from './production.controller.js';

@Module({ controllers: [ProductionController, CountersController] })
export class ProductionModule {}
