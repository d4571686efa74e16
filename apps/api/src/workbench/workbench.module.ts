import { Inject, Module, type OnModuleDestroy } from '@nestjs/common';
import { Runs } from './runs.js';
import { WorkbenchController } from './workbench.controller.js';

@Module({ controllers: [WorkbenchController], providers: [{ provide: Runs, useFactory: () => new Runs() }], exports: [Runs] })
export class WorkbenchModule implements OnModuleDestroy {
  constructor(@Inject(Runs) private readonly runs: Runs) {}

  onModuleDestroy(): Promise<void> {
    return this.runs.close();
  }
}
