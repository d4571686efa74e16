import { Controller, Inject } from '@nestjs/common';
import { getPlant } from '#contract/plant';
import { Endpoint, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findPlantTree } from './plant-tree.store.js';

@Controller()
export class PlantController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(getPlant)
  tree(@SignedIn() session: Session) {
    return findPlantTree(this.work.read, session.plantId);
  }
}
