import { Module } from '@nestjs/common';
import { ProductionController } from './production.controller.js';

@Module({ controllers: [ProductionController] })
export class ProductionModule {}
