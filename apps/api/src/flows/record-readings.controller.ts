import { Controller, Inject, Req } from '@nestjs/common';
import { z } from 'zod';
import type { InputOf } from '#contract/endpoint';
import { MOST_IN_BATCH, recordChecks } from '#contract/feeds';
import { getCheckVerdict, recordCheck } from '#contract/inspections';
import { Problem } from '#contract/problem';
import { CLOCK, type Clock } from '../platform/clock.js';
import { type Acting, ActingBy, Endpoint, Input, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { parseInput } from '../platform/field-errors.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { refuseMachines } from '../platform/refuse-machines.js';
import { retryContention } from '../platform/retry-contention.js';
import { checkVerdict } from './check-verdict.js';
import { recordBatch } from './record-batch.js';
import { floorVerdict } from './floor-verdict.js';
import { recordReadings } from './record-readings.js';
import { loadCodes, resolveCodes } from './resolve-codes.js';

const envelope = z.object({ checks: z.array(z.unknown()).min(1, 'at least one check').max(MOST_IN_BATCH, `at most ${MOST_IN_BATCH} checks`) });

@Controller()
export class RecordReadingsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  @Endpoint(recordCheck)
  async record(@Input() { body }: InputOf<typeof recordCheck>, @ActingBy() acting: Acting) {
    const check = resolveCodes(body, await loadCodes(this.work.read, acting.plantId));
    refuseMachines(acting, [{ machineId: check.machineId, field: 'machine' }]);
    const recorded = await retryContention(() => this.work.run((tx) => recordReadings(tx, acting.actor, [check], { now: this.clock.now(), source: acting.source })));
    this.outbox.nudge();
    return checkVerdict(this.work.read, acting.plantId, recorded.checkIds[0] as number, recorded.repeated[0] as boolean);
  }

  /** The checks of the body are parsed one by one: a malformed one must not refuse the others. */
  @Endpoint(recordChecks)
  async batch(@Input({ except: 'body' }) _input: unknown, @Req() request: Request, @ActingBy() acting: Acting) {
    const { data, errors } = parseInput(envelope, request.body ?? {});
    if (errors) throw new Problem('invalid-input', undefined, errors);
    const answer = await recordBatch(this.work, acting, data.checks, this.clock.now());
    if (answer.stored > 0) this.outbox.nudge();
    return answer;
  }

  @Endpoint(getCheckVerdict)
  verdict(@Input() { params }: InputOf<typeof getCheckVerdict>, @SignedIn() session: Session) {
    return floorVerdict(this.work.read, session.plantId, params.id, this.clock.now());
  }
}
