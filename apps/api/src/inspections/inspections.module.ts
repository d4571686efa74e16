import { Module } from '@nestjs/common';
import { GaugesController } from './gauges.controller.js';
import { InspectionsController } from './inspections.controller.js';

@Module({ controllers: [InspectionsController, GaugesController] })
export class InspectionsModule {}
