import { Module } from '@nestjs/common';
import { RecordsController } from './records.controller.js';
import { RetentionController } from './retention.controller.js';

@Module({ controllers: [RecordsController, RetentionController] })
export class RecordsModule {}
