import { Controller, Inject, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import * as contract from '#contract/packs';
import { Problem } from '#contract/problem';
import { type PackContent, packContent } from '../../packs/pack-content.js';
import { readingsIn } from '../../packs/pack-facts.js';
import { cancelJob, insertJob, listJobs } from '../../packs/pack-jobs.store.js';
import { findPackContent, listCustomers, listPackRows } from '../../packs/packs.store.js';
import { actorOf } from '../../platform/actor.js';
import { record } from '../../platform/audit.js';
import { CLOCK, type Clock } from '../../platform/clock.js';
import { Endpoint, Input, type Reply, type Session, SignedIn } from '../../platform/endpoint.js';
import { Work } from '../../platform/work.js';
import { packPdf } from '../../packs/pdf/pack-pdf.js';
import { packXlsx } from '../../packs/sheet/pack-xlsx.js';
import { findSignatures } from '../../records/signatures.store.js';
import { freezePack } from './freeze-pack.js';
import { packFileText, verifyPack } from './verify-pack.js';
import { visibleCustomer } from '../../packs/visible-customer.js';

type Of<E> = InputOf<E>;
const ids = (text: string) => [...new Set(text.split(',').filter(Boolean).map(Number))];

@Controller()
export class PacksController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.getReadiness)
  async readiness(@Input() { query }: Of<typeof contract.getReadiness>, @SignedIn() session: Session) {
    const own = visibleCustomer(session);
    if (own !== null && own !== query.customer) throw new Problem('not-found', `There is no customer ${query.customer}.`);
    const asked = { customer: query.customer, title: 'readiness', products: ids(query.products), studies: ids(query.studies), from: query.from, to: query.to };
    const content = await freezePack(this.work, session.plantId, asked, session.person, this.clock.now());
    return { subjects: content.inputs.subjects.length, readings: readingsIn(content.inputs), findings: content.results.findings };
  }

  @Endpoint(contract.getPack)
  async one(@Input() { params }: Of<typeof contract.getPack>, @SignedIn() session: Session) {
    const [row] = await listPackRows(this.work.read, session.plantId, visibleCustomer(session), params.id);
    if (!row) throw new Problem('not-found', `There is no pack ${params.id}.`);
    const { content } = await this.frozen(session, params.id);
    return { ...row, findingList: content.results.findings, chainHead: content.chainHead };
  }

  @Endpoint(contract.makePack)
  async make(@Input() { body }: Of<typeof contract.makePack>, @SignedIn() session: Session) {
    const customers = await listCustomers(this.work.read, session.plantId, visibleCustomer(session));
    const offered = customers.find(({ customer }) => customer === body.customer)?.products.map(({ id }) => id) ?? [];
    const unknown = body.products.filter((id) => !offered.includes(id));
    if (unknown.length > 0) throw new Problem('not-found', `There is no product ${unknown.join(', ')} of ${body.customer} in this plant.`, [{ field: 'products', expected: `ids of products of ${body.customer}` }]);
    const job = await this.work.run(async (tx) => {
      const id = await insertJob(tx, session.plantId, session.person.id, body);
      await record(tx, actorOf(session), 'pack.asked', `pack job ${id}`, { after: body });
      return id;
    });
    return { job };
  }

  @Endpoint(contract.cancelPackJob)
  async cancel(@Input() { params }: Of<typeof contract.cancelPackJob>, @SignedIn() session: Session) {
    const job = await this.job(session, params.id);
    await this.work.run(async (tx) => {
      if (!(await cancelJob(tx, session.plantId, params.id))) throw new Problem('wrong-state', `The pack job ${params.id} is ${job.state}: only one that waits or runs can be stopped.`);
      await record(tx, actorOf(session), 'pack.cancelled', `pack job ${params.id}`);
    });
    return this.job(session, params.id);
  }

  @Endpoint(contract.getPackJson)
  async json(@Input() { params }: Of<typeof contract.getPackJson>, @SignedIn() session: Session, @Res() reply: Reply) {
    const { json, sha256 } = await this.stored(session, params.id);
    return send(reply, params.id, 'json', 'application/json; charset=utf-8', Buffer.from(packFileText(json, sha256)));
  }

  @Endpoint(contract.getPackPdf)
  async pdf(@Input() { params, query }: Of<typeof contract.getPackPdf>, @SignedIn() session: Session, @Res() reply: Reply) {
    const { content, sha256 } = await this.frozen(session, params.id);
    const signatures = await findSignatures(this.work.read, session.plantId, 'pack', params.id);
    return send(reply, params.id, 'pdf', 'application/pdf', await packPdf({ content, sha256, id: params.id, signatures, language: query.language }));
  }

  @Endpoint(contract.getPackXlsx)
  async xlsx(@Input() { params, query }: Of<typeof contract.getPackXlsx>, @SignedIn() session: Session, @Res() reply: Reply) {
    const { content, sha256 } = await this.frozen(session, params.id);
    return send(reply, params.id, 'xlsx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet', await packXlsx({ content, sha256, language: query.language }));
  }

  @Endpoint(contract.verifyPackEndpoint)
  async verify(@Input() { params }: Of<typeof contract.verifyPackEndpoint>, @SignedIn() session: Session) {
    const { json, sha256 } = await this.stored(session, params.id);
    return verifyPack(this.work, session.plantId, packFileText(json, sha256), this.clock.now());
  }

  private async job(session: Session, id: number): Promise<contract.PackJobView> {
    const [job] = await listJobs(this.work.read, session.plantId, visibleCustomer(session), id);
    if (!job) throw new Problem('not-found', `There is no pack job ${id}.`);
    return job;
  }

  private async stored(session: Session, id: number): Promise<{ json: string; sha256: string }> {
    const found = await findPackContent(this.work.read, session.plantId, id, visibleCustomer(session));
    if (!found) throw new Problem('not-found', `There is no pack ${id}.`);
    return found;
  }

  private async frozen(session: Session, id: number): Promise<{ content: PackContent; sha256: string }> {
    const { json, sha256 } = await this.stored(session, id);
    return { content: packContent.parse(JSON.parse(json)), sha256 };
  }
}

function send(reply: Reply, id: number, kind: string, type: string, bytes: Buffer): Reply {
  return reply.type(type).header('content-disposition', `attachment; filename="audit-pack-${id}.${kind}"`).header('cache-control', 'private, no-store').send(bytes);
}
