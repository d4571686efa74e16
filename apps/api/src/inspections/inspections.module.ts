import { Module } from '@nestjs/common';
import { InspectionsController } from './inspections.controller.js';

@Module({ controllers: [InspectionsController] })
export class InspectionsModule {}
