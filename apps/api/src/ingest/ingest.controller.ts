import { createHash } from 'node:crypto';
import { Controller, Inject, type OnApplicationShutdown, type OnModuleInit, Req, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { continueImport, getImport, getRefusedRows, type ImportView, listImports, lookAtImport, previewImport, startImport, stopImport, undoImport as undoContract, uploadImport } from '#contract/ingest';
import { Problem } from '#contract/problem';
import { undoImport } from '../flows/undo-import.js';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Reply, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { fingerprintOf } from './fingerprint.js';
import { deleteAbandoned, findImportView, findRefusedCsv, insertImport, listImportViews, loadNames, moveImport, rememberMapping, stopOrphans } from './ingest.store.js';
import { lookAtFile, previewFile } from './look-at-file.js';
import { RowMapper } from './map-rows.js';
import { runImport } from './run-import.js';
import { lacking } from './sort-rows.js';
import { SortingThreads } from './sorting-threads.js';
import { tableBytes } from './table-bytes.js';

const KEPT_UNSTARTED_MS = 7 * 86_400_000;

@Controller()
export class IngestController implements OnModuleInit, OnApplicationShutdown {
  private readonly running = new Set<Promise<void>>();
  /** Imports that ended by an error which the database could not yet be told. */
  private readonly broken = new Map<number, string>();
  private readonly closing = new AbortController();

  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker, @Inject(SortingThreads) private readonly threads: SortingThreads) {}

  onModuleInit(): Promise<void> {
    return stopOrphans(this.work.read);
  }

  /** A stopping server finishes the transaction that is under way and leaves the import "stopped". */
  async onApplicationShutdown(): Promise<void> {
    this.closing.abort();
    if (this.running.size > 0) await stopOrphans(this.work.read).catch(() => {}); // What could not be marked now is found at the next start.
    await Promise.allSettled(this.running);
  }

  @Endpoint(uploadImport)
  async upload(@Req() request: Request, @SignedIn() session: Session) {
    const part = request.isMultipart() ? await request.file() : undefined;
    if (!part) throw new Problem('invalid-input', undefined, [{ field: 'file', expected: 'a CSV or XLSX file, as multipart/form-data' }]);
    const content = await tableBytes(await part.toBuffer());
    const now = this.clock.now();
    const id = await this.work.run(async (tx) => {
      await deleteAbandoned(tx, session.plantId, new Date(now.getTime() - KEPT_UNSTARTED_MS));
      return insertImport(tx, session.plantId, { fileName: part.filename.slice(0, 200), sha256: createHash('sha256').update(content).digest('hex'), content, startedBy: session.person.id, startedAt: now });
    }, 120_000);
    return lookAtFile(this.work.read, session, id);
  }

  @Endpoint(lookAtImport)
  look(@Input() { params, body }: InputOf<typeof lookAtImport>, @SignedIn() session: Session) {
    return lookAtFile(this.work.read, session, params.id, body.layout);
  }

  @Endpoint(previewImport)
  preview(@Input() { params, body }: InputOf<typeof previewImport>, @SignedIn() session: Session) {
    return previewFile(this.work.read, session.plantId, params.id, body, this.clock.now());
  }

  @Endpoint(startImport)
  async start(@Input() { params, body }: InputOf<typeof startImport>, @SignedIn() session: Session) {
    const look = await lookAtFile(this.work.read, session, params.id, body.layout);
    const missing = new RowMapper(look.header, body.layout, body.mapping, await loadNames(this.work.read, session.plantId), this.clock.now()).missing();
    if (missing.length > 0) throw lacking(missing);
    await this.work.run(async (tx) => {
      if (!(await moveImport(tx, session.plantId, params.id, ['new'], { state: 'running', mapping: body, startedAt: this.clock.now(), problem: null }))) throw new Problem('wrong-state', 'This import was started before.');
      await rememberMapping(tx, session.plantId, fingerprintOf(look.header), look.import.fileName, body);
      await record(tx, actorOf(session), 'import.started', `import ${params.id}`, { after: { file: look.import.fileName } });
    });
    return this.run(params.id, session);
  }

  @Endpoint(continueImport)
  async continue(@Input() { params }: InputOf<typeof continueImport>, @SignedIn() session: Session) {
    const from = this.broken.delete(params.id) ? ['stopped', 'running'] : ['stopped'];
    await this.work.run(async (tx) => {
      if (!(await moveImport(tx, session.plantId, params.id, from, { state: 'running', stoppedBy: null, problem: null }))) throw new Problem('wrong-state', 'Only a stopped import can be continued.');
      await record(tx, actorOf(session), 'import.continued', `import ${params.id}`);
    });
    return this.run(params.id, session);
  }

  @Endpoint(stopImport)
  async stop(@Input() { params }: InputOf<typeof stopImport>, @SignedIn() session: Session) {
    await this.work.run(async (tx) => {
      if (!(await moveImport(tx, session.plantId, params.id, ['running'], { state: 'stopped', stoppedBy: session.person.id, problem: null }))) throw new Problem('wrong-state', 'Only a running import can be stopped.');
      await record(tx, actorOf(session), 'import.stopped', `import ${params.id}`);
    });
    return this.view(params.id, session);
  }

  @Endpoint(undoContract)
  async undo(@Input() { params, body }: InputOf<typeof undoContract>, @SignedIn() session: Session) {
    await this.work.run(async (tx) => {
      if (!(await moveImport(tx, session.plantId, params.id, ['done', 'stopped'], { state: 'undone', undoneAt: this.clock.now() }))) throw new Problem('wrong-state', 'Only an import that has ended or was stopped can be undone, once.');
      await undoImport(tx, actorOf(session), params.id, body.reason, this.clock.now());
    }, 600_000);
    this.outbox.nudge();
    return this.view(params.id, session);
  }

  @Endpoint(listImports)
  async list(@SignedIn() session: Session) {
    return (await listImportViews(this.work.read, session.plantId)).map((view) => this.asItIs(view));
  }

  @Endpoint(getImport)
  get(@Input() { params }: InputOf<typeof getImport>, @SignedIn() session: Session) {
    return this.view(params.id, session);
  }

  @Endpoint(getRefusedRows)
  async refused(@Input() { params }: InputOf<typeof getRefusedRows>, @SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    const found = await findRefusedCsv(this.work.read, session.plantId, params.id);
    if (!found?.refusedCsv) throw new Problem('not-found', 'No row of this import was refused.');
    reply.header('content-type', 'text/csv; charset=utf-8').header('content-disposition', `attachment; filename="refused-rows-of-import-${params.id}.csv"`);
    return found.refusedCsv;
  }

  private async view(id: number, session: Session): Promise<ImportView> {
    const view = await findImportView(this.work.read, session.plantId, id);
    if (!view) throw new Problem('not-found', `There is no import ${id}.`);
    return this.asItIs(view);
  }

  private asItIs(view: ImportView): ImportView {
    const problem = this.broken.get(view.id);
    return view.state === 'running' && problem !== undefined ? { ...view, state: 'stopped', problem } : view;
  }

  private run(id: number, session: Session) {
    const running = runImport({ work: this.work, threads: this.threads, actor: actorOf(session), id, now: () => this.clock.now(), nudge: () => this.outbox.nudge(), broken: this.broken, closing: this.closing.signal })
      .then(() => {}).finally(() => this.running.delete(running));
    this.running.add(running);
    return this.view(id, session);
  }
}
