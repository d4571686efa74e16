import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { changeSynonymGroup, createSynonymGroup, listSynonymRevisions, listSynonyms as listContract } from '#contract/synonyms';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { PastFixes } from './past-fixes.js';
import { addSynonyms, changeSynonyms, listSynonyms } from './set-synonyms.js';
import { findGroup, listGroupRevisions } from './synonym-groups.store.js';

@Controller()
export class SynonymsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock, @Inject(PastFixes) private readonly pastFixes: PastFixes) {}

  @Endpoint(listContract)
  list(@SignedIn() session: Session) {
    return listSynonyms(this.work.read, session.plantId);
  }

  @Endpoint(listSynonymRevisions)
  async revisions(@Input() { params }: InputOf<typeof listSynonymRevisions>, @SignedIn() session: Session) {
    await findGroup(this.work.read, session.plantId, params.id);
    return { revisions: (await listGroupRevisions(this.work.read, session.plantId, params.id)).map(({ at, ...row }) => ({ ...row, at: at.toISOString() })) };
  }

  @Endpoint(createSynonymGroup)
  async add(@Input() { body }: InputOf<typeof createSynonymGroup>, @SignedIn() session: Session) {
    const id = await this.work.run((tx) => addSynonyms(tx, actorOf(session), body, this.clock.now()));
    await this.pastFixes.catchUp(session.plantId);
    return findGroup(this.work.read, session.plantId, id);
  }

  @Endpoint(changeSynonymGroup)
  async change(@Input() { params, body }: InputOf<typeof changeSynonymGroup>, @SignedIn() session: Session) {
    await this.work.run((tx) => changeSynonyms(tx, actorOf(session), params.id, body, this.clock.now()));
    await this.pastFixes.catchUp(session.plantId);
    return findGroup(this.work.read, session.plantId, params.id);
  }
}
