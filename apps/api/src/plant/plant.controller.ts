import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { changeLine, changeMachine, changeProduct, changeStep, createLine, createMachine, createProduct, createStep, getPlant, setStretches } from '#contract/plant';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findPlantTree } from './plant-tree.store.js';
import { plantTreeOf } from './plant-tree-of.js';
import { putStretches } from './stretches.js';
import { addLine, addMachine, addProduct, addStep, editMachine, editProduct, editStep, renameLine } from './set-up.js';

@Controller()
export class PlantController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getPlant)
  async tree(@SignedIn() session: Session) {
    return plantTreeOf(await findPlantTree(this.work.read, session.plantId), session.scope);
  }

  @Endpoint(createLine)
  addLine(@Input() { body }: InputOf<typeof createLine>, @SignedIn() session: Session) {
    return addLine(this.work, actorOf(session), body);
  }

  @Endpoint(changeLine)
  renameLine(@Input() { params, body }: InputOf<typeof changeLine>, @SignedIn() session: Session) {
    return renameLine(this.work, actorOf(session), params.id, body);
  }

  @Endpoint(setStretches)
  putStretches(@Input() { params, body }: InputOf<typeof setStretches>, @SignedIn() session: Session) {
    return putStretches(this.work, actorOf(session), params.id, body);
  }

  @Endpoint(createStep)
  addStep(@Input() { body }: InputOf<typeof createStep>, @SignedIn() session: Session) {
    return addStep(this.work, actorOf(session), body);
  }

  @Endpoint(changeStep)
  editStep(@Input() { params, body }: InputOf<typeof changeStep>, @SignedIn() session: Session) {
    return editStep(this.work, actorOf(session), params.id, body);
  }

  @Endpoint(createMachine)
  addMachine(@Input() { body }: InputOf<typeof createMachine>, @SignedIn() session: Session) {
    return addMachine(this.work, actorOf(session), body);
  }

  @Endpoint(changeMachine)
  editMachine(@Input() { params, body }: InputOf<typeof changeMachine>, @SignedIn() session: Session) {
    return editMachine(this.work, actorOf(session), params.id, body, this.clock.now());
  }

  @Endpoint(createProduct)
  addProduct(@Input() { body }: InputOf<typeof createProduct>, @SignedIn() session: Session) {
    return addProduct(this.work, actorOf(session), body);
  }

  @Endpoint(changeProduct)
  editProduct(@Input() { params, body }: InputOf<typeof changeProduct>, @SignedIn() session: Session) {
    return editProduct(this.work, actorOf(session), params.id, body, this.clock.now());
  }
}
