import { Module } from '@nestjs/common';
import { CheckPhotosController } from './check-photos.controller.js';
import { GaugesController } from './gauges.controller.js';
import { InspectionsController } from './inspections.controller.js';

@Module({ controllers: [InspectionsController, GaugesController, CheckPhotosController] })
export class InspectionsModule {}
