import { Inject, Module, type OnApplicationShutdown } from '@nestjs/common';
import { KnowledgeModule } from '../knowledge/knowledge.module.js';
import { PastFixes } from '../knowledge/past-fixes.js';
import { Live } from '../platform/live.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { WorkbenchModule } from '../workbench/workbench.module.js';
import { CorrectReadingController } from './correct-reading.controller.js';
import { ExplainSignalController } from './explain-signal.controller.js';
import { FirstRunController } from './first-run.controller.js';
import { FreezeLimitsController } from './freeze-limits.controller.js';
import { NowBoardController } from './now-board.controller.js';
import { PlannerController } from './planner.controller.js';
import { PortableController } from './portable.controller.js';
import { PlantSetUpController } from './plant-set-up.controller.js';
import { reactions } from './reactions.js';
import { RecordsFlowController } from './records.controller.js';
import { RecordReadingsController } from './record-readings.controller.js';
import { SaveStudyController } from './save-study.controller.js';
import { SpecificationsFlowController } from './specifications.controller.js';
import { TraceController } from './trace.controller.js';

@Module({
  imports: [KnowledgeModule, WorkbenchModule],
  controllers: [CorrectReadingController, ExplainSignalController, FirstRunController, NowBoardController, FreezeLimitsController, PlannerController, PlantSetUpController, PortableController, RecordReadingsController, RecordsFlowController, SaveStudyController, SpecificationsFlowController, TraceController],
  providers: [{
    provide: OutboxWorker, inject: [Work, Live, PastFixes],
    useFactory: (work: Work, live: Live, pastFixes: PastFixes) => new OutboxWorker(work, reactions(work, live, pastFixes)),
  }],
  exports: [OutboxWorker],
})
export class FlowsModule implements OnApplicationShutdown {
  constructor(@Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  onApplicationShutdown(): Promise<void> {
    return this.outbox.stop();
  }
}
