import { Inject, Module, type OnApplicationShutdown } from '@nestjs/common';
import { KnowledgeModule } from '../knowledge/knowledge.module.js';
import { PastFixes } from '../knowledge/past-fixes.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { OUTWARD, type Outward } from '../platform/outward.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { WorkbenchModule } from '../workbench/workbench.module.js';
import { CorrectReadingController } from './correct-reading.controller.js';
import { ExplainSignalController } from './explain-signal.controller.js';
import { MonitorsWorker } from './monitors.worker.js';
import { FirstRunController } from './first-run.controller.js';
import { FreezeLimitsController } from './freeze-limits.controller.js';
import { CalendarController } from './outgoing/calendar.controller.js';
import { OutgoingWorker } from './outgoing/outgoing.worker.js';
import { NowBoardController } from './now-board.controller.js';
import { PackJobsWorker } from './packs/pack-jobs.worker.js';
import { PacksController } from './packs/packs.controller.js';
import { PlannerController } from './planner.controller.js';
import { PortableController } from './portable.controller.js';
import { PlantSetUpController } from './plant-set-up.controller.js';
import { RecordsFlowController } from './records.controller.js';
import { reactions, SENDING, sending } from './reactions.js';
import { RecordReadingsController } from './record-readings.controller.js';
import { SaveStudyController } from './save-study.controller.js';
import { StudyRecordsFlowController } from './study-records.controller.js';
import { SpecificationsFlowController } from './specifications.controller.js';
import { TraceController } from './trace.controller.js';
import { WeldPositionsController } from './weld-positions.controller.js';

@Module({
  imports: [KnowledgeModule, WorkbenchModule],
  controllers: [CalendarController, CorrectReadingController, ExplainSignalController, FirstRunController, NowBoardController, FreezeLimitsController, PacksController, PlannerController, PlantSetUpController, PortableController, RecordReadingsController, RecordsFlowController, SaveStudyController, StudyRecordsFlowController, SpecificationsFlowController, TraceController, WeldPositionsController],
  providers: [PackJobsWorker, {
    provide: OutboxWorker, inject: [Work, CLOCK, PastFixes, OUTWARD],
    useFactory: (work: Work, clock: Clock, pastFixes: PastFixes, outward: Outward) => new OutboxWorker(work, reactions(work, clock, pastFixes, outward.publicUrl), 500, { but: SENDING }),
  }, {
    provide: OutgoingWorker, inject: [Work, CLOCK, OUTWARD],
    useFactory: (work: Work, clock: Clock, outward: Outward) => new OutgoingWorker(work, clock, outward, new OutboxWorker(work, sending(work, clock, outward), 500, { only: SENDING }, 1)),
  }, { provide: MonitorsWorker, inject: [Work, CLOCK], useFactory: (work: Work, clock: Clock) => new MonitorsWorker(work, clock) }],
  exports: [OutboxWorker, OutgoingWorker, MonitorsWorker],
})
export class FlowsModule implements OnApplicationShutdown {
  constructor(@Inject(OutboxWorker) private readonly outbox: OutboxWorker, @Inject(OutgoingWorker) private readonly outgoing: OutgoingWorker, @Inject(MonitorsWorker) private readonly monitors: MonitorsWorker) {}

  async onApplicationShutdown(): Promise<void> {
    await this.monitors.stop();
    await Promise.all([this.outbox.stop(), this.outgoing.stop()]);
  }
}
