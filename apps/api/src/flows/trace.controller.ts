import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getIncidentSurroundings } from '#contract/incidents';
import * as contract from '#contract/traces';
import { cansOfIncident } from '../incidents/surroundings.js';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { lineSurroundings } from './line-surroundings.js';
import { keepTrace, traceIncident } from './trace-incident.js';
import { keepSignalTrace, signalSurroundings, traceSignal } from './trace-signal.js';

@Controller()
export class TraceController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.traceIncident)
  trace(@Input() { params, query }: InputOf<typeof contract.traceIncident>, @SignedIn() session: Session) {
    return traceIncident(this.work.read, session.plantId, params.id, query.take, this.clock.now());
  }

  @Endpoint(contract.keepTrace)
  keep(@Input() { params, body }: InputOf<typeof contract.keepTrace>, @SignedIn() session: Session) {
    return keepTrace(this.work, actorOf(session), params.id, body, this.clock.now());
  }

  @Endpoint(contract.traceSignal)
  signal(@Input() { params, query }: InputOf<typeof contract.traceSignal>, @SignedIn() session: Session) {
    return traceSignal(this.work.read, session.plantId, params.id, query, this.clock.now());
  }

  @Endpoint(contract.keepSignalTrace)
  keepSignal(@Input() { params, body }: InputOf<typeof contract.keepSignalTrace>, @SignedIn() session: Session) {
    return keepSignalTrace(this.work, actorOf(session), params.id, body, this.clock.now());
  }

  @Endpoint(getIncidentSurroundings)
  async aroundIncident(@Input() { params, query }: InputOf<typeof getIncidentSurroundings>, @SignedIn() session: Session) {
    return lineSurroundings(this.work.read, session.plantId, await cansOfIncident(this.work.read, session.plantId, params.id), query, this.clock.now());
  }

  @Endpoint(contract.getSignalSurroundings)
  around(@Input() { params, query }: InputOf<typeof contract.getSignalSurroundings>, @SignedIn() session: Session) {
    return signalSurroundings(this.work.read, session.plantId, params.id, query, this.clock.now());
  }
}
