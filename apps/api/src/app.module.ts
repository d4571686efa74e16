import { type DynamicModule, Module } from '@nestjs/common';
import { APP_FILTER, APP_GUARD } from '@nestjs/core';
import { CanCodesModule } from './can-codes/can-codes.module.js';
import { FeedsModule } from './feeds/feeds.module.js';
import { MonitorsModule } from './monitors/monitors.module.js';
import { FlowsModule } from './flows/flows.module.js';
import { HoldsModule } from './holds/holds.module.js';
import { RecordsModule } from './records/records.module.js';
import { IncidentsModule } from './incidents/incidents.module.js';
import { IngestModule } from './ingest/ingest.module.js';
import { InspectionsModule } from './inspections/inspections.module.js';
import { KnowledgeModule } from './knowledge/knowledge.module.js';
import { OutgoingModule } from './outgoing/outgoing.module.js';
import { PlantModule } from './plant/plant.module.js';
import { AccessGuard } from './platform/access.guard.js';
import type { Clock } from './platform/clock.js';
import type { Outward } from './platform/outward.js';
import { PlatformModule } from './platform/platform.module.js';
import { ProblemFilter } from './platform/problem.filter.js';
import type { Work } from './platform/work.js';
import { ProductionModule } from './production/production.module.js';
import { SignalsModule } from './signals/signals.module.js';
import { SpecificationsModule } from './specifications/specifications.module.js';
import { StudiesModule } from './studies/studies.module.js';
import { TracesModule } from './traces/traces.module.js';
import { UsersModule } from './users/users.module.js';
import { WorkbenchModule } from './workbench/workbench.module.js';

@Module({})
export class AppModule {
  static with(parts: { work: Work; clock: Clock; outward?: Outward }): DynamicModule {
    return {
      module: AppModule,
      imports: [
        PlatformModule.with(parts), UsersModule, PlantModule, SpecificationsModule, ProductionModule, InspectionsModule,
        SignalsModule, IncidentsModule, KnowledgeModule, StudiesModule, TracesModule, CanCodesModule, FeedsModule, HoldsModule, RecordsModule, MonitorsModule, FlowsModule, IngestModule, WorkbenchModule, OutgoingModule,
      ],
      providers: [{ provide: APP_GUARD, useClass: AccessGuard }, { provide: APP_FILTER, useClass: ProblemFilter }],
    };
  }
}
