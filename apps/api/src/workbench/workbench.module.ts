import { Module } from '@nestjs/common';
import { Runs } from './runs.js';
import { WorkbenchController } from './workbench.controller.js';

@Module({ controllers: [WorkbenchController], providers: [Runs] })
export class WorkbenchModule {}
