import { Module } from '@nestjs/common';
import { PlantController } from './plant.controller.js';
import { ShiftsController } from './shifts.controller.js';

@Module({ controllers: [PlantController, ShiftsController] })
export class PlantModule {}
