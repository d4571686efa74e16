import { Readable } from 'node:stream';
import { Controller, Inject, StreamableFile } from '@nestjs/common';
import { exportEverything as exportEndpoint } from '#contract/portable';
import { actorOf } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { CLOCK, type Clock } from '../platform/clock.js';
import { Endpoint, type Session, SignedIn } from '../platform/endpoint.js';
import { exportEverything } from '../platform/portable/export-everything.js';
import { Work } from '../platform/work.js';

@Controller()
export class PortableController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(CLOCK) private readonly clock: Clock) {}

  @Endpoint(exportEndpoint)
  async everything(@SignedIn() session: Session) {
    const now = this.clock.now();
    await this.work.run((tx) => record(tx, actorOf(session), 'everything.exported', `plant ${session.plantId}`));
    const pieces = Readable.from(exportEverything(this.work.databaseUrl, session.plantId, now), { objectMode: false });
    return new StreamableFile(pieces, { type: 'application/zip', disposition: `attachment; filename="seamledger-${now.toISOString().slice(0, 10)}.zip"` });
  }
}
