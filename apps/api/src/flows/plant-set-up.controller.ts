import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getPlantSetUp, getPlantSetUpSchema, importPlantSetUp, plantSetUpSchema, previewPlantSetUp } from '#contract/plant-set-up';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { exportSetUp } from './set-up/export-set-up.js';
import { importSetUp } from './set-up/import-set-up.js';

@Controller()
export class PlantSetUpController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getPlantSetUp)
  setUp(@SignedIn() session: Session) {
    return exportSetUp(this.work.read, session.plantId, this.clock.now());
  }

  @Endpoint(getPlantSetUpSchema)
  schema() {
    return plantSetUpSchema();
  }

  @Endpoint(previewPlantSetUp)
  preview(@Input() { body }: InputOf<typeof previewPlantSetUp>, @SignedIn() session: Session) {
    return importSetUp(this.work, actorOf(session), body, this.clock.now(), { isPreview: true });
  }

  @Endpoint(importPlantSetUp)
  import(@Input() { body }: InputOf<typeof importPlantSetUp>, @SignedIn() session: Session) {
    return importSetUp(this.work, actorOf(session), body, this.clock.now(), { isPreview: false });
  }
}
