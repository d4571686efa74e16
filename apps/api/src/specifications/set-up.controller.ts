import { Controller, Inject } from '@nestjs/common';
import { listCheckPlanRevisions } from '#contract/check-plans';
import type { InputOf } from '#contract/endpoint';
import { addUsualCharacteristics, changeCharacteristic, changeCheckPlan, createCharacteristic, createCheckPlan, createSpecification, listSpecifications, listUsualCharacteristics } from '#contract/plant';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { addCharacteristic, addCheckPlan, addSpecification, addUsual, editCharacteristic, editCheckPlan, listSpecificationRevisions, listUsual } from './set-up.js';
import { planRevisions } from './write-check-plan.js';

@Controller()
export class SetUpController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(createCharacteristic)
  addCharacteristic(@Input() { body }: InputOf<typeof createCharacteristic>, @SignedIn() session: Session) {
    return addCharacteristic(this.work, actorOf(session), body);
  }

  @Endpoint(changeCharacteristic)
  editCharacteristic(@Input() { params, body }: InputOf<typeof changeCharacteristic>, @SignedIn() session: Session) {
    return editCharacteristic(this.work, actorOf(session), params.id, body);
  }

  @Endpoint(listUsualCharacteristics)
  usual(@SignedIn() session: Session) {
    return listUsual(this.work.read, session.plantId);
  }

  @Endpoint(addUsualCharacteristics)
  addUsual(@Input() { body }: InputOf<typeof addUsualCharacteristics>, @SignedIn() session: Session) {
    return addUsual(this.work, actorOf(session), body.codes);
  }

  @Endpoint(createSpecification)
  addSpecification(@Input() { body }: InputOf<typeof createSpecification>, @SignedIn() session: Session) {
    return addSpecification(this.work, actorOf(session), body);
  }

  @Endpoint(listSpecifications)
  async specifications(@Input() { query }: InputOf<typeof listSpecifications>, @SignedIn() { plantId, scope }: Session) {
    const revisions = await listSpecificationRevisions(this.work.read, plantId, query.product, query.characteristic);
    return scope ? revisions.filter(({ effectiveFrom }) => new Date(effectiveFrom) < scope.until) : revisions;
  }

  @Endpoint(createCheckPlan)
  addCheckPlan(@Input() { body }: InputOf<typeof createCheckPlan>, @SignedIn() session: Session) {
    return addCheckPlan(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(changeCheckPlan)
  editCheckPlan(@Input() { params, body }: InputOf<typeof changeCheckPlan>, @SignedIn() session: Session) {
    return editCheckPlan(this.work, actorOf(session), params.id, body, this.clock.now());
  }

  @Endpoint(listCheckPlanRevisions)
  planRevisions(@Input() { params }: InputOf<typeof listCheckPlanRevisions>, @SignedIn() session: Session) {
    return planRevisions(this.work.read, session.plantId, params.id, this.clock.now());
  }
}
