import { Module } from '@nestjs/common';
import { ReactionPlansController } from './reaction-plans.controller.js';
import { SetUpController } from './set-up.controller.js';
import { SpecificationsController } from './specifications.controller.js';

@Module({ controllers: [ReactionPlansController, SpecificationsController, SetUpController] })
export class SpecificationsModule {}
