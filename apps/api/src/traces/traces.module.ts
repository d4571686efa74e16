import { Module } from '@nestjs/common';
import { TracesController } from './traces.controller.js';

@Module({ controllers: [TracesController] })
export class TracesModule {}
