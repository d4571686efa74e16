import { Module } from '@nestjs/common';
import { FlowsModule } from '../flows/flows.module.js';
import { InboxWorker } from './inbox.worker.js';
import { IngestController } from './ingest.controller.js';

@Module({ imports: [FlowsModule], controllers: [IngestController], providers: [InboxWorker] })
export class IngestModule {}
