import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { type SimilarIncident, similarToIncident, similarToSignal } from '#contract/similar';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { PastFixes } from './past-fixes.js';
import { incidentSituation, type KnownSituation, signalSituation } from './situations.store.js';
import { similarIncidentsTo } from './suggest.js';

@Controller()
export class SimilarController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(PastFixes) private readonly pastFixes: PastFixes) {}

  @Endpoint(similarToIncident)
  async incident(@Input() { params }: InputOf<typeof similarToIncident>, @SignedIn() session: Session) {
    const known = await incidentSituation(this.work.read, session.plantId, params.id);
    if (!known) throw new Problem('not-found', `There is no incident ${params.id}.`);
    return { incidents: await this.like(session.plantId, known, params.id) };
  }

  @Endpoint(similarToSignal)
  async signal(@Input() { params }: InputOf<typeof similarToSignal>, @SignedIn() session: Session) {
    const known = await signalSituation(this.work.read, session.plantId, params.id);
    if (!known) throw new Problem('not-found', `There is no signal ${params.id}.`);
    return { incidents: await this.like(session.plantId, known, null) };
  }

  private async like(plantId: number, { situation }: KnownSituation, except: number | null): Promise<SimilarIncident[]> {
    return similarIncidentsTo(await this.pastFixes.indexOf(plantId), situation, except).map(({ fix, score, reasons }) => ({
      id: fix.id, defectName: fix.defectName, customer: fix.customer, state: fix.state, symptom: fix.texts.symptom, cause: fix.texts.cause, fix: fix.texts.fix, changedAt: fix.changedAt.toISOString(), score, reasons,
    }));
  }
}
