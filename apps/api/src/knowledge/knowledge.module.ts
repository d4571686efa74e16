import { Inject, Module, type OnApplicationShutdown } from '@nestjs/common';
import { Work } from '../platform/work.js';
import { KnowledgeController } from './knowledge.controller.js';
import { PastFixes } from './past-fixes.js';
import { SimilarController } from './similar.controller.js';
import { SynonymsController } from './synonyms.controller.js';

/** One index of past fixes a process: requests and reactions share it. */
@Module({
  controllers: [KnowledgeController, SimilarController, SynonymsController],
  providers: [{ provide: PastFixes, inject: [Work], useFactory: (work: Work) => new PastFixes(work) }],
  exports: [PastFixes],
})
export class KnowledgeModule implements OnApplicationShutdown {
  constructor(@Inject(PastFixes) private readonly pastFixes: PastFixes) {}

  onApplicationShutdown(): Promise<void> {
    return this.pastFixes.close();
  }
}
