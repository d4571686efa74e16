import { Module } from '@nestjs/common';
import { SetUpController } from './set-up.controller.js';
import { SpecificationsController } from './specifications.controller.js';

@Module({ controllers: [SpecificationsController, SetUpController] })
export class SpecificationsModule {}
