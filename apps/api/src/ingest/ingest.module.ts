import { Module } from '@nestjs/common';
import { FlowsModule } from '../flows/flows.module.js';
import { IngestController } from './ingest.controller.js';

@Module({ imports: [FlowsModule], controllers: [IngestController] })
export class IngestModule {}
