import { Module } from '@nestjs/common';
import { GaugeStudiesController } from './gauge-studies.controller.js';
import { StudiesController } from './studies.controller.js';
import { StudyRecordsController } from './study-records.controller.js';

@Module({ controllers: [StudiesController, StudyRecordsController, GaugeStudiesController] })
export class StudiesModule {}
