import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { changeWebhook, createWebhook, endMyCalendar, endMyNotices, getLinksOut, getMyNotices, listDeliveries, listWebhooks, makeMyCalendar, removeWebhook, resendDelivery, saveMyNotices, testWebhook } from '#contract/outgoing';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { OUTWARD, type Outward } from '../platform/outward.js';
import { Work } from '../platform/work.js';
import { chooseNotices, endCalendar, endNotices, makeCalendar, myNotices } from './my-notices.js';
import { dropWebhook, editWebhook, makeWebhook, resend, tryWebhook } from './webhooks.js';
import { listDeliveryViews, listWebhookViews } from './webhooks.store.js';

const done = { done: true as const };

@Controller()
export class OutgoingController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(OUTWARD) private readonly outward: Outward) {}

  @Endpoint(listWebhooks)
  webhooks(@SignedIn() session: Session) {
    return listWebhookViews(this.work.read, session.plantId);
  }

  @Endpoint(getLinksOut)
  linksOut() {
    return { publicUrl: this.outward.publicUrl };
  }

  @Endpoint(createWebhook)
  create(@Input() { body }: InputOf<typeof createWebhook>, @SignedIn() session: Session) {
    return makeWebhook(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(changeWebhook)
  change(@Input() { params, body }: InputOf<typeof changeWebhook>, @SignedIn() session: Session) {
    return editWebhook(this.work, actorOf(session), params.id, body);
  }

  @Endpoint(removeWebhook)
  async remove(@Input() { params }: InputOf<typeof removeWebhook>, @SignedIn() session: Session) {
    await dropWebhook(this.work, actorOf(session), params.id, this.clock.now());
    return done;
  }

  @Endpoint(testWebhook)
  async test(@Input() { params }: InputOf<typeof testWebhook>, @SignedIn() session: Session) {
    await tryWebhook(this.work, actorOf(session), params.id, this.clock.now());
    return done;
  }

  @Endpoint(listDeliveries)
  deliveries(@Input() { query }: InputOf<typeof listDeliveries>, @SignedIn() session: Session) {
    return listDeliveryViews(this.work.read, session.plantId, query.before, query.take);
  }

  @Endpoint(resendDelivery)
  async resend(@Input() { params }: InputOf<typeof resendDelivery>, @SignedIn() session: Session) {
    await resend(this.work, actorOf(session), params.id);
    return done;
  }

  @Endpoint(getMyNotices)
  mine(@SignedIn() session: Session) {
    return myNotices(this.work.read, actorOf(session), this.outward);
  }

  @Endpoint(saveMyNotices)
  async choose(@Input() { body }: InputOf<typeof saveMyNotices>, @SignedIn() session: Session) {
    await chooseNotices(this.work, actorOf(session), body, this.clock.now());
    return this.mine(session);
  }

  @Endpoint(endMyNotices)
  async end(@SignedIn() session: Session) {
    await endNotices(this.work, actorOf(session));
    return this.mine(session);
  }

  @Endpoint(makeMyCalendar)
  async makeCalendar(@SignedIn() session: Session) {
    return { path: `/api/calendar/${await makeCalendar(this.work, actorOf(session), this.clock.now())}` };
  }

  @Endpoint(endMyCalendar)
  async endCalendar(@SignedIn() session: Session) {
    await endCalendar(this.work, actorOf(session));
    return done;
  }
}
