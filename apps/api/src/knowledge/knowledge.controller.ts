import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { addNoteLink, confirmNoteLink, createNote, getNote, listDefects as listDefectsContract, rejectNoteLink, reviseNote, searchPastFixes as searchContract } from '#contract/knowledge';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { confirmSuggestion, rejectLink } from './judge-suggestion.js';
import { listDefects } from './list-defects.js';
import { findNote } from './notes.store.js';
import { PastFixes } from './past-fixes.js';
import { reviseText } from './revise-note.js';
import { searchPastFixes } from './search-past-fixes.js';
import { addCitation, writeNote } from './write-note.js';

@Controller()
export class KnowledgeController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(PastFixes) private readonly pastFixes: PastFixes) {}

  @Endpoint(searchContract)
  async search(@Input() { query }: InputOf<typeof searchContract>, @SignedIn() session: Session) {
    const { meaning, ...asked } = query;
    return searchPastFixes(await this.pastFixes.indexOf(session.plantId), { ...asked, meanings: meaning });
  }

  @Endpoint(createNote)
  async write(@Input() { body }: InputOf<typeof createNote>, @SignedIn() session: Session) {
    const id = await this.work.run((tx) => writeNote(tx, actorOf(session), body, this.clock.now()));
    await this.pastFixes.catchUp(session.plantId);
    return findNote(this.work.read, session.plantId, id);
  }

  @Endpoint(getNote)
  note(@Input() { params }: InputOf<typeof getNote>, @SignedIn() session: Session) {
    return findNote(this.work.read, session.plantId, params.id);
  }

  @Endpoint(reviseNote)
  async revise(@Input() { params, body }: InputOf<typeof reviseNote>, @SignedIn() session: Session) {
    await this.work.run((tx) => reviseText(tx, actorOf(session), params.id, body, this.clock.now()));
    await this.pastFixes.catchUp(session.plantId);
    return findNote(this.work.read, session.plantId, params.id);
  }

  @Endpoint(addNoteLink)
  async link(@Input() { params, body }: InputOf<typeof addNoteLink>, @SignedIn() session: Session) {
    await this.work.run((tx) => addCitation(tx, actorOf(session), params.id, body));
    return findNote(this.work.read, session.plantId, params.id);
  }

  @Endpoint(confirmNoteLink)
  confirm(@Input() { params }: InputOf<typeof confirmNoteLink>, @SignedIn() session: Session) {
    return this.work.run((tx) => confirmSuggestion(tx, actorOf(session), params.id));
  }

  @Endpoint(rejectNoteLink)
  async reject(@Input() { params }: InputOf<typeof rejectNoteLink>, @SignedIn() session: Session) {
    await this.work.run((tx) => rejectLink(tx, actorOf(session), params.id));
    return { done: true as const };
  }

  @Endpoint(listDefectsContract)
  defects() {
    return listDefects();
  }
}
