import { Controller, Inject, Req, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import * as contract from '#contract/incidents';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Reply, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { addPhotos } from './add-photos.js';
import { changeIncident, closeIncident, reopenIncident } from './change-incident.js';
import { listIncidents } from './incident-rows.store.js';
import { incidentOf } from './incident-of.js';
import { incidentView } from './incident.view.js';
import { linkSignal, unlinkSignal } from './link-signal.js';
import { logIncident } from './log-incident.js';
import { findPhoto, listPhotos } from './photos.store.js';
import { readUploads } from '../platform/read-uploads.js';
import { servePhoto } from '../platform/serve-photo.js';

@Controller()
export class IncidentsController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.listIncidents)
  list(@Input() { query }: InputOf<typeof contract.listIncidents>, @SignedIn() session: Session) {
    return listIncidents(this.work.read, session.plantId, query, session.scope);
  }

  @Endpoint(contract.logIncident)
  async log(@Input() { body }: InputOf<typeof contract.logIncident>, @SignedIn() session: Session) {
    const id = await this.work.run((tx) => logIncident(tx, actorOf(session), body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, id);
  }

  @Endpoint(contract.getIncident)
  async incident(@Input() { params }: InputOf<typeof contract.getIncident>, @SignedIn() session: Session) {
    return incidentOf(this.work.read, session.plantId, await incidentView(this.work.read, session.plantId, params.id), session.scope);
  }

  @Endpoint(contract.changeIncident)
  async change(@Input() { params, body }: InputOf<typeof contract.changeIncident>, @SignedIn() session: Session) {
    await this.work.run((tx) => changeIncident(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.closeIncident)
  async close(@Input() { params, body }: InputOf<typeof contract.closeIncident>, @SignedIn() session: Session) {
    await this.work.run((tx) => closeIncident(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.reopenIncident)
  async reopen(@Input() { params, body }: InputOf<typeof contract.reopenIncident>, @SignedIn() session: Session) {
    await this.work.run((tx) => reopenIncident(tx, actorOf(session), params.id, body, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.linkIncidentSignal)
  async link(@Input() { params, body }: InputOf<typeof contract.linkIncidentSignal>, @SignedIn() session: Session) {
    await this.work.run((tx) => linkSignal(tx, actorOf(session), params.id, body.signalId, body.reason, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.unlinkIncidentSignal)
  async unlink(@Input() { params, query }: InputOf<typeof contract.unlinkIncidentSignal>, @SignedIn() session: Session) {
    await this.work.run((tx) => unlinkSignal(tx, actorOf(session), params.id, params.signalId, query.reason, this.clock.now()));
    return incidentView(this.work.read, session.plantId, params.id);
  }

  @Endpoint(contract.addIncidentPhoto)
  async addPhotos(@Input() { params }: InputOf<typeof contract.addIncidentPhoto>, @SignedIn() session: Session, @Req() request: Request) {
    const files = await readUploads(request);
    await this.work.run((tx) => addPhotos(tx, actorOf(session), params.id, files, this.clock.now()), 60_000);
    return { photos: await listPhotos(this.work.read, session.plantId, params.id) };
  }

  @Endpoint(contract.getIncidentPhoto)
  async photo(@Input() { params }: InputOf<typeof contract.getIncidentPhoto>, @SignedIn() session: Session, @Res() reply: Reply) {
    return servePhoto(reply, await findPhoto(this.work.read, session.plantId, params.id, params.photoId));
  }
}
