import { Module } from '@nestjs/common';
import { CanCodesController } from './can-codes.controller.js';

@Module({ controllers: [CanCodesController] })
export class CanCodesModule {}
