import { Controller, Inject } from '@nestjs/common';
import { listAssignments, listDueChecks, listMissedChecks, setAssignments, setMyAssignments, skipDueCheck } from '#contract/due-checks';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { assignPlaces } from './assign-places.js';
import { findPlaces, listAssigned } from './assignments.store.js';
import { dueChecks, skipDue } from './due-list.js';
import { missedChecks } from './missed-list.js';

@Controller()
export class DueChecksController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(listDueChecks)
  async due(@Input() { query }: InputOf<typeof listDueChecks>, @SignedIn() session: Session) {
    const now = this.clock.now();
    const [due, places] = await Promise.all([dueChecks(this.work.read, session.plantId, now), findPlaces(this.work.read, session.plantId, session.person.id)]);
    const listed = due.map((entry) => ({ ...entry, mine: places.machineIds.includes(entry.machineId) || places.lineIds.includes(entry.lineId) }));
    return {
      at: now.toISOString(), assigned: places.lineIds.length + places.machineIds.length > 0,
      due: listed.filter(({ machineId, lineId, mine }) => (query.machine ?? machineId) === machineId && (query.line ?? lineId) === lineId && (!query.mine || mine)),
    };
  }

  @Endpoint(skipDueCheck)
  skip(@Input() { body }: InputOf<typeof skipDueCheck>, @SignedIn() session: Session) {
    return this.work.run((tx) => skipDue(tx, actorOf(session), body.planId, body.reason, this.clock.now()));
  }

  @Endpoint(listMissedChecks)
  async missed(@Input() { query }: InputOf<typeof listMissedChecks>, @SignedIn() session: Session) {
    return { from: query.from, to: query.to, missed: await missedChecks(this.work.read, session.plantId, { ...query, from: new Date(query.from), to: new Date(query.to) }, this.clock.now()) };
  }

  @Endpoint(listAssignments)
  async assigned(@SignedIn() session: Session) {
    return { people: await listAssigned(this.work.read, session.plantId) };
  }

  @Endpoint(setMyAssignments)
  assignMine(@Input() { body }: InputOf<typeof setMyAssignments>, @SignedIn() session: Session) {
    return this.work.run((tx) => assignPlaces(tx, actorOf(session), session.person.id, body));
  }

  @Endpoint(setAssignments)
  assign(@Input() { params, body }: InputOf<typeof setAssignments>, @SignedIn() session: Session) {
    return this.work.run((tx) => assignPlaces(tx, actorOf(session), params.id, body));
  }
}
