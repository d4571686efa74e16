import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { getRetention, liftLegalHold, placeLegalHold, setRetentionRule } from '#contract/retention';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { retentionView } from './retention.js';
import { insertLegalHold, insertRule, missingOf, setLifted } from './retention.store.js';

const EXPECTED = { customer: 'the customer of a product, written as the product has it', productId: 'the id of a product of this plant', incidentId: 'the id of an incident of this plant' } as const;

@Controller()
export class RetentionController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getRetention)
  view(@SignedIn() session: Session) {
    return retentionView(this.work.read, session.plantId, this.clock.now());
  }

  @Endpoint(setRetentionRule)
  setRule(@Input() { body }: InputOf<typeof setRetentionRule>, @SignedIn() session: Session) {
    const actor = actorOf(session);
    return this.work.run(async (tx) => {
      const rule = await insertRule(tx, actor.plantId, { ...body, author: actor.name, authorId: actor.userId, at: this.clock.now() });
      await record(tx, actor, 'retention.set', `retention ${body.kind}`, { after: rule });
      return rule;
    });
  }

  @Endpoint(placeLegalHold)
  place(@Input() { body }: InputOf<typeof placeLegalHold>, @SignedIn() session: Session) {
    const actor = actorOf(session);
    return this.work.run(async (tx) => {
      const missing = await missingOf(tx, actor.plantId, body);
      if (missing.length > 0) throw new Problem('invalid-input', undefined, missing.map((field) => ({ field, expected: EXPECTED[field] })));
      const { from, until, ...hold } = body;
      const id = await insertLegalHold(tx, actor.plantId, { ...hold, fromAt: from ? new Date(from) : null, untilAt: until ? new Date(until) : null, placedBy: actor.name, placedAt: this.clock.now() });
      await record(tx, actor, 'legal-hold.placed', `legal hold ${id}`, { after: body });
      return { id };
    });
  }

  @Endpoint(liftLegalHold)
  lift(@Input() { params, body }: InputOf<typeof liftLegalHold>, @SignedIn() session: Session) {
    const actor = actorOf(session);
    return this.work.run(async (tx) => {
      const done = await setLifted(tx, actor.plantId, params.id, { by: actor.name, at: this.clock.now(), reason: body.reason });
      if (done === 'gone') throw new Problem('not-found', `There is no legal hold ${params.id}.`);
      if (done === 'was-lifted') throw new Problem('wrong-state', 'This legal hold was lifted already.');
      await record(tx, actor, 'legal-hold.lifted', `legal hold ${params.id}`, { after: body });
      return { id: params.id };
    });
  }
}
