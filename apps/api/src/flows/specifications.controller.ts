import { Controller, Inject, Req } from '@nestjs/common';
import { decideSpecification, listProposals as listEndpoint, previewSpecification } from '#contract/approvals';
import type { InputOf } from '#contract/endpoint';
import { signerOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { effectOfLimits } from '../studies/effect-of-limits.js';
import { approveSpecification, listProposals } from './approve-specification.js';

const DAY = 86_400_000;

@Controller()
export class SpecificationsFlowController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listEndpoint)
  proposals(@SignedIn() session: Session) {
    return listProposals(this.work.read, session.plantId);
  }

  @Endpoint(decideSpecification)
  decide(@Input() { params, body }: InputOf<typeof decideSpecification>, @SignedIn() session: Session, @Req() request: Request) {
    return approveSpecification(this.work, signerOf(session, request), params.id, body, this.clock.now());
  }

  @Endpoint(previewSpecification)
  async preview(@Input() { body: { productId, characteristicId, days, lsl, target, usl } }: InputOf<typeof previewSpecification>, @SignedIn() session: Session) {
    const to = this.clock.now();
    const from = new Date(to.getTime() - days * DAY);
    const { before, ...effect } = await effectOfLimits(this.work.read, session.plantId, { product: productId, characteristic: characteristicId }, { from, to }, { lsl, target, usl });
    return { ...effect, from: from.toISOString(), to: to.toISOString(), before: before && { revision: before.revision, lsl: before.lsl, target: before.target, usl: before.usl }, after: { lsl, target, usl } };
  }
}
