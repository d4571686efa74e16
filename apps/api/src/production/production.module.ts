import { Module } from '@nestjs/common';
import { DueChecksController } from './due-checks.controller.js';
import { ProductionController } from './production.controller.js';

@Module({ controllers: [ProductionController, DueChecksController] })
export class ProductionModule {}
