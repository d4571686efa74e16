import { Readable } from 'node:stream';
import { Controller, Inject, StreamableFile } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { getBodiesCsv, listBodies } from '#contract/every-body';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { bodiesCsv, bodiesPage } from './read-bodies.js';

@Controller()
export class BodiesController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listBodies)
  list(@Input() { query }: InputOf<typeof listBodies>, @SignedIn() session: Session) {
    return bodiesPage(this.work.read, session.plantId, query);
  }

  @Endpoint(getBodiesCsv)
  async csv(@Input() { query }: InputOf<typeof getBodiesCsv>, @SignedIn() session: Session) {
    const pieces = Readable.from(await bodiesCsv(this.work.read, session.plantId, query), { objectMode: false });
    return new StreamableFile(pieces, { type: 'text/csv; charset=utf-8', disposition: `attachment; filename="every-body-${query.machine}-${query.characteristic}-${query.from.slice(0, 10)}.csv"` });
  }
}
