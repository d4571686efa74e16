import { Module } from '@nestjs/common';
import { IncidentLifeController } from './incident-life.controller.js';
import { IncidentsController } from './incidents.controller.js';

@Module({ controllers: [IncidentLifeController, IncidentsController] })
export class IncidentsModule {}
