import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { getKeptTrace, listKeptSignalTraces, listKeptTraces } from '#contract/traces';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findTracedIncident, isSignal } from './evidence.store.js';
import { findKept, listKept } from './kept-traces.store.js';
import { keptRow, keptTrace } from './kept-trace.view.js';

@Controller()
export class TracesController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listKeptTraces)
  async kept(@Input() { params }: InputOf<typeof listKeptTraces>, @SignedIn() session: Session) {
    if (!(await findTracedIncident(this.work.read, session.plantId, params.id))) throw new Problem('not-found', `There is no incident ${params.id}.`);
    return { traces: (await listKept(this.work.read, session.plantId, { incidentId: params.id })).map(keptRow) };
  }

  @Endpoint(listKeptSignalTraces)
  async keptOfSignal(@Input() { params }: InputOf<typeof listKeptSignalTraces>, @SignedIn() session: Session) {
    if (!(await isSignal(this.work.read, session.plantId, params.id))) throw new Problem('not-found', `There is no signal ${params.id}.`);
    return { traces: (await listKept(this.work.read, session.plantId, { signalId: params.id })).map(keptRow) };
  }

  @Endpoint(getKeptTrace)
  async keptOne(@Input() { params }: InputOf<typeof getKeptTrace>, @SignedIn() session: Session) {
    const row = await findKept(this.work.read, session.plantId, params.id);
    if (!row) throw new Problem('not-found', `There is no kept ranking ${params.id}.`);
    return keptTrace(row);
  }
}
