import { Module } from '@nestjs/common';
import { ApprovalsController } from './approvals.controller.js';
import { PlantController } from './plant.controller.js';
import { ShiftsController } from './shifts.controller.js';

@Module({ controllers: [ApprovalsController, PlantController, ShiftsController] })
export class PlantModule {}
