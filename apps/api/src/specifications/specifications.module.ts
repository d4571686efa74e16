import { Module } from '@nestjs/common';
import { SpecificationsController } from './specifications.controller.js';

@Module({ controllers: [SpecificationsController] })
export class SpecificationsModule {}
