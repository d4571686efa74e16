import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getPackJob, listPackChoices, listPacks, listPackTemplates, setPackTemplate } from '#contract/packs';
import { Problem } from '#contract/problem';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { idsInScope } from '../platform/scope.store.js';
import { Work } from '../platform/work.js';
import { listJobs } from './pack-jobs.store.js';
import { insertTemplate, listTemplates, USUAL_TEMPLATE } from './pack-templates.store.js';
import { listCustomers, listPackRows } from './packs.store.js';
import { visibleCustomer } from './visible-customer.js';

/** What there is of packs, of what is being made, and what customers ask for. */
@Controller()
export class PackListController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listPackChoices)
  async choices(@SignedIn() session: Session) {
    const rows = await listCustomers(this.work.read, session.plantId, visibleCustomer(session));
    return { customers: rows.map((row) => ({ ...row, first: row.first?.toISOString() ?? null, last: row.last?.toISOString() ?? null })) };
  }

  @Endpoint(listPacks)
  async list(@SignedIn() session: Session) {
    const customer = visibleCustomer(session);
    const packs = await listPackRows(this.work.read, session.plantId, customer);
    if (session.scope) {
      const theirs = await idsInScope(this.work.read, session.plantId, session.scope, 'pack', packs.map(({ id }) => id));
      return { packs: packs.filter(({ id }) => theirs.has(id)), jobs: [] };
    }
    return { packs, jobs: await listJobs(this.work.read, session.plantId, customer) };
  }

  @Endpoint(getPackJob)
  async job(@Input() { params }: InputOf<typeof getPackJob>, @SignedIn() session: Session) {
    const [job] = await listJobs(this.work.read, session.plantId, visibleCustomer(session), params.id);
    if (!job) throw new Problem('not-found', `There is no pack job ${params.id}.`);
    return job;
  }

  @Endpoint(listPackTemplates)
  async templates(@SignedIn() session: Session) {
    return { usual: USUAL_TEMPLATE, templates: await listTemplates(this.work.read, session.plantId, visibleCustomer(session)) };
  }

  @Endpoint(setPackTemplate)
  setTemplate(@Input() { body }: InputOf<typeof setPackTemplate>, @SignedIn() session: Session) {
    return this.work.run(async (tx) => {
      const version = await insertTemplate(tx, session.plantId, { ...body, authorId: session.person.id, at: this.clock.now() });
      await record(tx, actorOf(session), 'pack.template', `pack template ${body.customer}, version ${version}`, { after: body });
      return { version };
    });
  }
}
