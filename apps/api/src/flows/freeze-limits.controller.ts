import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { freezeLimits as freezeLimitsEndpoint, previewLimits as previewLimitsEndpoint } from '#contract/specifications';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { OutboxWorker } from '../platform/outbox.worker.js';
import { Work } from '../platform/work.js';
import { freezeLimits } from './freeze-limits.js';
import { previewLimits } from './preview-limits.js';

/** Judging a long stream anew takes longer than recording a check. */
const PATIENCE_MS = 120_000;

@Controller()
export class FreezeLimitsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OutboxWorker) private readonly outbox: OutboxWorker) {}

  @Endpoint(previewLimitsEndpoint)
  preview(@Input() { params, body }: InputOf<typeof previewLimitsEndpoint>, @SignedIn() session: Session) {
    return previewLimits(this.work.read, session.plantId, params.streamId, body);
  }

  @Endpoint(freezeLimitsEndpoint)
  async freeze(@Input() { params, body }: InputOf<typeof freezeLimitsEndpoint>, @SignedIn() session: Session) {
    const frozen = await this.work.run((tx) => freezeLimits(tx, actorOf(session), params.streamId, body, this.clock.now()), PATIENCE_MS);
    this.outbox.nudge();
    return frozen;
  }
}
