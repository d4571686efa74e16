import { Module } from '@nestjs/common';
import { StudiesController } from './studies.controller.js';

@Module({ controllers: [StudiesController] })
export class StudiesModule {}
