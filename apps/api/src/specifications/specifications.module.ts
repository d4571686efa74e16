import { Module } from '@nestjs/common';
import { ReactionPlansController } from './reaction-plans.controller.js';
import { SetUpController } from './set-up.controller.js';
import { SpecificationsController } from './specifications.controller.js';
import { WeldWindowsController } from './weld-windows.controller.js';

@Module({ controllers: [WeldWindowsController, ReactionPlansController, SpecificationsController, SetUpController] })
export class SpecificationsModule {}
