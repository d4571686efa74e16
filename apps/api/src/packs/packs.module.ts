import { Module } from '@nestjs/common';
import { PackListController } from './pack-list.controller.js';

@Module({ controllers: [PackListController] })
export class PacksModule {}
