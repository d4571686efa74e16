import { Controller, Inject, Req, Res } from '@nestjs/common';
import * as contract from '#contract/check-photos';
import type { InputOf } from '#contract/endpoint';
import { actorOf } from '../platform/actor.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, Input, type Reply, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { readUploads } from '../platform/read-uploads.js';
import { servePhoto } from '../platform/serve-photo.js';
import { Work } from '../platform/work.js';
import { addCheckPhotos, removeCheckPhoto } from './add-check-photos.js';
import { findCheckPhoto, listCheckPhotos } from './check-photos.store.js';

@Controller()
export class CheckPhotosController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(contract.addCheckPhotos)
  async add(@Input() { params, query }: InputOf<typeof contract.addCheckPhotos>, @SignedIn() session: Session, @Req() request: Request) {
    const files = await readUploads(request);
    await this.work.run((tx) => addCheckPhotos(tx, actorOf(session), params.id, query.can ?? null, files, this.clock.now()), 60_000);
    return { photos: await listCheckPhotos(this.work.read, session.plantId, params.id) };
  }

  @Endpoint(contract.removeCheckPhoto)
  async remove(@Input() { params, body }: InputOf<typeof contract.removeCheckPhoto>, @SignedIn() session: Session) {
    await this.work.run((tx) => removeCheckPhoto(tx, actorOf(session), params.id, params.photoId, body.reason, this.clock.now()));
    return { photos: await listCheckPhotos(this.work.read, session.plantId, params.id) };
  }

  @Endpoint(contract.getCheckPhoto)
  async photo(@Input() { params }: InputOf<typeof contract.getCheckPhoto>, @SignedIn() session: Session, @Res() reply: Reply) {
    return servePhoto(reply, await findCheckPhoto(this.work.read, session.plantId, params.id, params.photoId));
  }
}
