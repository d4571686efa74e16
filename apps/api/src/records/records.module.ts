import { Module } from '@nestjs/common';
import { RecordsController } from './records.controller.js';

@Module({ controllers: [RecordsController] })
export class RecordsModule {}
