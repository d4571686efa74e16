import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { changeFeed, changeFeedTopic, discardQuarantine, listFeeds, listQuarantine, makeFeed, makeFeedTopic, removeFeedTopic, replayQuarantine, setBodyRetention } from '#contract/monitors';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findKeepDays, listFeedViews } from './monitors.store.js';
import { askReplay, countWaiting, discard, listRefused } from './quarantine.store.js';
import { addFeed, editFeed, removeTopic, requireFeed, saveTopic, setKeepDays } from './set-up-feed.js';

@Controller()
export class MonitorsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listFeeds)
  async list(@SignedIn() { plantId }: Session) {
    return { feeds: await listFeedViews(this.work.read, plantId), keepDays: await findKeepDays(this.work.read, plantId) };
  }

  @Endpoint(makeFeed)
  make(@Input() { body }: InputOf<typeof makeFeed>, @SignedIn() session: Session) {
    return addFeed(this.work, actorOf(session), body, this.clock.now());
  }

  @Endpoint(setBodyRetention)
  keep(@Input() { body }: InputOf<typeof setBodyRetention>, @SignedIn() session: Session) {
    return setKeepDays(this.work, actorOf(session), body.keepDays);
  }

  @Endpoint(changeFeed)
  change(@Input() { params, body }: InputOf<typeof changeFeed>, @SignedIn() session: Session) {
    return editFeed(this.work, actorOf(session), params.id, body);
  }

  @Endpoint(makeFeedTopic)
  makeTopic(@Input() { params, body }: InputOf<typeof makeFeedTopic>, @SignedIn() session: Session) {
    return saveTopic(this.work, actorOf(session), params.id, body, null);
  }

  @Endpoint(changeFeedTopic)
  changeTopic(@Input() { params, body }: InputOf<typeof changeFeedTopic>, @SignedIn() session: Session) {
    return saveTopic(this.work, actorOf(session), params.id, body, params.topicId);
  }

  @Endpoint(removeFeedTopic)
  removeTopic(@Input() { params }: InputOf<typeof removeFeedTopic>, @SignedIn() session: Session) {
    return removeTopic(this.work, actorOf(session), params.id, params.topicId, this.clock.now());
  }

  @Endpoint(listQuarantine)
  async quarantine(@Input() { params, query }: InputOf<typeof listQuarantine>, @SignedIn() { plantId }: Session) {
    await requireFeed(this.work.read, plantId, params.id);
    return { messages: await listRefused(this.work.read, plantId, params.id, query.state), waiting: await countWaiting(this.work.read, plantId, params.id) };
  }

  @Endpoint(replayQuarantine)
  replay(@Input() { params, body }: InputOf<typeof replayQuarantine>, @SignedIn() session: Session) {
    return this.work.run(async (tx) => {
      await requireFeed(tx, session.plantId, params.id);
      const asked = await askReplay(tx, session.plantId, params.id, body.ids, body.asMeasured, session.person.id);
      if (asked.length > 0) await record(tx, actorOf(session), 'feed-message.replayed', `feed ${params.id}`, { after: { messages: asked, asMeasured: body.asMeasured } });
      return { asked: asked.length };
    });
  }

  @Endpoint(discardQuarantine)
  discard(@Input() { params, body }: InputOf<typeof discardQuarantine>, @SignedIn() session: Session) {
    return this.work.run(async (tx) => {
      await requireFeed(tx, session.plantId, params.id);
      const gone = await discard(tx, session.plantId, params.id, body.ids, body.reason, session.person.id);
      if (gone.length > 0) await record(tx, actorOf(session), 'feed-message.discarded', `feed ${params.id}`, { after: { messages: gone, reason: body.reason } });
      return { discarded: gone.length };
    });
  }
}
