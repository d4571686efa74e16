import { randomUUID } from 'node:crypto';
import { Controller, Inject, Req, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getRun, stopRun } from '#contract/workbench/runs';
import { Endpoint, Input, type Reply, type Request } from '../platform/endpoint.js';
import { allMethods } from './all-methods.js';
import { Runs } from './runs.js';

/** The Workbench: anyone computes with their own numbers; nothing is stored. */
@Controller()
export class WorkbenchController {
  constructor(@Inject(Runs) readonly runs: Runs) {}

  @Endpoint(getRun)
  run(@Input() { params }: InputOf<typeof getRun>) {
    return this.runs.stateOf(params.run);
  }

  @Endpoint(stopRun)
  stop(@Input() { params }: InputOf<typeof stopRun>) {
    this.runs.stop(params.run);
  }
}

/** One handler a method. They differ in their contract only, so they are made from the list instead of written out. */
for (const { endpoint } of allMethods) {
  const name = `compute ${endpoint.path}`;
  const handler = async function (this: WorkbenchController, input: { query: { run?: string } }, request: Request, reply: Reply): Promise<void> {
    const left = new AbortController();
    reply.raw.once('close', () => { if (!reply.raw.writableFinished) left.abort(); });
    const body = Buffer.isBuffer(request.body) ? request.body : Buffer.from('null');
    const answer = await this.runs.compute(input.query.run ?? randomUUID(), endpoint.path, body, request.ip, left.signal);
    void reply.type('application/json; charset=utf-8').send(answer);
  };
  Object.defineProperty(WorkbenchController.prototype, name, { value: handler, configurable: true, writable: true });
  Input({ except: 'body' })(WorkbenchController.prototype, name, 0);
  Req()(WorkbenchController.prototype, name, 1);
  Res()(WorkbenchController.prototype, name, 2);
  Endpoint(endpoint)(WorkbenchController.prototype, name, Object.getOwnPropertyDescriptor(WorkbenchController.prototype, name) as PropertyDescriptor);
}
