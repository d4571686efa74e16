import { Module } from '@nestjs/common';
import { MonitorsController } from './monitors.controller.js';

@Module({ controllers: [MonitorsController] })
export class MonitorsModule {}
