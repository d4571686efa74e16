import { Module } from '@nestjs/common';
import { BodiesController } from './bodies.controller.js';
import { MonitorsController } from './monitors.controller.js';

@Module({ controllers: [MonitorsController, BodiesController] })
export class MonitorsModule {}
