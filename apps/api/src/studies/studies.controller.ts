import { Controller, Inject, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { getCapability, getCapabilityCsv, getStudy, listCapabilityChoices, listStudies } from '#contract/studies';
import { Endpoint, Input, type Reply, type Session, SignedIn } from '../platform/endpoint.js';
import type { Scope } from '../platform/scope.js';
import { version } from '../platform/version.js';
import { Work } from '../platform/work.js';
import { capabilityCsv, capabilityFileName } from './capability-csv.js';
import { capabilityStudy } from './capability-study.js';
import { findStudy, listKeptStudies } from './kept-studies.store.js';
import { listChoices } from './studies.store.js';

@Controller()
export class StudiesController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listCapabilityChoices)
  async choices(@SignedIn() { plantId, scope }: Session) {
    return { choices: await listChoices(this.work.read, plantId, scope) };
  }

  @Endpoint(getCapability)
  study(@Input() { query }: InputOf<typeof getCapability>, @SignedIn() session: Session) {
    refuseOutside(session.scope, query);
    return capabilityStudy(this.work.read, session.plantId, query, version);
  }

  @Endpoint(getCapabilityCsv)
  async csv(@Input() { query }: InputOf<typeof getCapabilityCsv>, @SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    refuseOutside(session.scope, query);
    const study = await capabilityStudy(this.work.read, session.plantId, query, version);
    void reply.type('text/csv; charset=utf-8').header('content-disposition', `attachment; filename="${capabilityFileName(study)}"`);
    return capabilityCsv(study);
  }

  @Endpoint(listStudies)
  async kept(@Input() { query }: InputOf<typeof listStudies>, @SignedIn() session: Session) {
    return { studies: await listKeptStudies(this.work.read, session.plantId, query.before) };
  }

  @Endpoint(getStudy)
  async keptOne(@Input() { params }: InputOf<typeof getStudy>, @SignedIn() session: Session) {
    const study = await findStudy(this.work.read, session.plantId, params.studyId);
    if (!study) throw new Problem('not-found');
    const { id, title, note, author, createdAt, version, state, answers } = study;
    const kept = answers as { method: string; body: unknown; answer: unknown }[];
    return { id, title, note, author, createdAt, version, state, answers: kept, methods: kept.map(({ method }) => method) };
  }
}

/** An index of a shorter period than asked for would look like the one that was asked for: an auditor is told the bounds instead. */
function refuseOutside(scope: Scope | null, { from, to }: { from: string; to: string }): void {
  if (!scope) return;
  const expected = `a moment from ${scope.from.toISOString()} to ${scope.until.toISOString()}, the period of this account`;
  const isOutside = (moment: string) => new Date(moment) < scope.from || new Date(moment) > scope.until;
  const errors = [['from', from], ['to', to]].flatMap(([field, moment]) => (isOutside(moment as string) ? [{ field: `query.${field}`, expected }] : []));
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
}
