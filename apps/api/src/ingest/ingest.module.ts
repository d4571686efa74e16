import { Inject, Module, type OnApplicationShutdown } from '@nestjs/common';
import { FlowsModule } from '../flows/flows.module.js';
import { InboxWorker } from './inbox.worker.js';
import { IngestController } from './ingest.controller.js';
import { SortingThreads } from './sorting-threads.js';

@Module({ imports: [FlowsModule], controllers: [IngestController], providers: [InboxWorker, { provide: SortingThreads, useFactory: () => new SortingThreads() }] })
export class IngestModule implements OnApplicationShutdown {
  constructor(@Inject(SortingThreads) private readonly threads: SortingThreads) {}

  /** Comes after the same of those who import: nothing is being sorted any more. */
  onApplicationShutdown(): Promise<void> {
    return this.threads.close();
  }
}
