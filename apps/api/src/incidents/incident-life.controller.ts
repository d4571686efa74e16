import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import * as contract from '#contract/incident-life';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { complaintGaps } from './complaint-gaps.js';
import { listIncidentRows } from './incident-rows.store.js';
import { incidentView } from './incident.view.js';
import { linkEvent, removePhoto, unlinkEvent } from './link-event.js';
import { paretoBars } from './pareto.js';
import { listParetoChoices, listParetoGroups } from './pareto.store.js';
import { replyView, saveReply } from './reply.js';
import { setDue, setWhys, takeBack, takeStep } from './take-step.js';
import { keepVerification, previewVerification } from './verify-effect.js';

const MOST_OVERDUE = 200;

@Controller()
export class IncidentLifeController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.listOverdueIncidents)
  async overdue(@SignedIn() session: Session) {
    const now = this.clock.now();
    return { at: now.toISOString(), rows: await listIncidentRows(this.work.read, session.plantId, { take: MOST_OVERDUE, skip: 0 }, null, now) };
  }

  @Endpoint(contract.getIncidentPareto)
  async pareto(@Input() { query }: InputOf<typeof contract.getIncidentPareto>, @SignedIn() session: Session) {
    const groups = await listParetoGroups(this.work.read, session.plantId, query);
    const sum = (pick: (group: (typeof groups)[number]) => number) => groups.reduce((total, group) => total + pick(group), 0);
    return { by: query.by, weight: query.weight, incidents: sum(({ incidents }) => incidents), cansComplained: sum(({ cansComplained }) => cansComplained), bars: paretoBars(groups, query.by, query.weight), ...(await listParetoChoices(this.work.read, session.plantId)) };
  }

  @Endpoint(contract.getComplaintGaps)
  gaps(@Input() { query }: InputOf<typeof contract.getComplaintGaps>, @SignedIn() session: Session) {
    return complaintGaps(this.work.read, session.plantId, query);
  }

  @Endpoint(contract.takeIncidentStep)
  async step(@Input() { params, body }: InputOf<typeof contract.takeIncidentStep>, @SignedIn() session: Session) {
    await this.work.run((tx) => takeStep(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.takeIncidentBack)
  async back(@Input() { params, body }: InputOf<typeof contract.takeIncidentBack>, @SignedIn() session: Session) {
    await this.work.run((tx) => takeBack(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.setIncidentDue)
  async due(@Input() { params, body }: InputOf<typeof contract.setIncidentDue>, @SignedIn() session: Session) {
    await this.work.run((tx) => setDue(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.setIncidentWhys)
  async whys(@Input() { params, body }: InputOf<typeof contract.setIncidentWhys>, @SignedIn() session: Session) {
    await this.work.run((tx) => setWhys(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.linkIncidentEvent)
  async linkEvent(@Input() { params, body }: InputOf<typeof contract.linkIncidentEvent>, @SignedIn() session: Session) {
    await this.work.run((tx) => linkEvent(tx, actorOf(session), params.id, body.eventId, body.reason, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.unlinkIncidentEvent)
  async unlinkEvent(@Input() { params, body }: InputOf<typeof contract.unlinkIncidentEvent>, @SignedIn() session: Session) {
    await this.work.run((tx) => unlinkEvent(tx, actorOf(session), params.id, params.eventId, body.reason, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.removeIncidentPhoto)
  async removePhoto(@Input() { params, body }: InputOf<typeof contract.removeIncidentPhoto>, @SignedIn() session: Session) {
    await this.work.run((tx) => removePhoto(tx, actorOf(session), params.id, params.photoId, body.reason, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.previewVerification)
  preview(@Input() { params, body }: InputOf<typeof contract.previewVerification>, @SignedIn() session: Session) {
    return previewVerification(this.work.read, session.plantId, params.id, body);
  }

  @Endpoint(contract.keepVerification)
  keep(@Input() { params, body }: InputOf<typeof contract.keepVerification>, @SignedIn() session: Session) {
    return this.work.run((tx) => keepVerification(tx, actorOf(session), params.id, body, this.clock.now()));
  }

  @Endpoint(contract.getIncidentReply)
  reply(@Input() { params, query }: InputOf<typeof contract.getIncidentReply>, @SignedIn() session: Session) {
    return replyView(this.work.read, session.plantId, params.id, query.language, this.clock.now());
  }

  @Endpoint(contract.saveIncidentReply)
  saveReply(@Input() { params, body }: InputOf<typeof contract.saveIncidentReply>, @SignedIn() session: Session) {
    return this.work.run((tx) => saveReply(tx, actorOf(session), params.id, body, this.clock.now()));
  }
}
