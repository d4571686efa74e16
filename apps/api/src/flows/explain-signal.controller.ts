import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { assignCause as assignCauseEndpoint, getSignal, linkSignalNote, unlinkSignalNote } from '#contract/signals';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { findSignalRow } from '../signals/signal-pages.store.js';
import { assignCause, linkNoteToSignal, notesOfSignal, signalPage, unlinkNoteFromSignal } from './explain-signal.js';
import { signalPageOf } from './signal-page-of.js';

@Controller()
export class ExplainSignalController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(getSignal)
  async page(@Input() { params }: InputOf<typeof getSignal>, @SignedIn() session: Session) {
    return signalPageOf(this.work.read, session.plantId, await signalPage(this.work.read, session.plantId, params.id, this.clock.now()), session.scope);
  }

  @Endpoint(assignCauseEndpoint)
  async assign(@Input() { params, body }: InputOf<typeof assignCauseEndpoint>, @SignedIn() session: Session) {
    const now = this.clock.now();
    await this.work.run((tx) => assignCause(tx, actorOf(session), session.person.role, params.id, body, now));
    return findSignalRow(this.work.read, session.plantId, params.id, now);
  }

  @Endpoint(linkSignalNote)
  async link(@Input() { params, body }: InputOf<typeof linkSignalNote>, @SignedIn() session: Session) {
    await this.work.run((tx) => linkNoteToSignal(tx, actorOf(session), params.id, body.noteId, body.reason, this.clock.now()));
    return { notes: await notesOfSignal(this.work.read, session.plantId, params.id) };
  }

  @Endpoint(unlinkSignalNote)
  async unlink(@Input() { params }: InputOf<typeof unlinkSignalNote>, @SignedIn() session: Session) {
    await this.work.run((tx) => unlinkNoteFromSignal(tx, actorOf(session), params.id, params.linkId, this.clock.now()));
    return { notes: await notesOfSignal(this.work.read, session.plantId, params.id) };
  }
}
