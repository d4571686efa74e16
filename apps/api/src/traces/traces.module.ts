import { Module } from '@nestjs/common';
import { OriginWeightsController } from './origin-weights.controller.js';
import { TracesController } from './traces.controller.js';

@Module({ controllers: [OriginWeightsController, TracesController] })
export class TracesModule {}
