import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { listReviews, listSignatures } from '#contract/records';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { listContents } from './contents.store.js';
import { countWaiting, listWaiting } from './reviews.store.js';
import { findSignatures } from './signatures.store.js';

@Controller()
export class RecordsController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listSignatures)
  async signatures(@Input() { query }: InputOf<typeof listSignatures>, @SignedIn() session: Session) {
    const content = (await listContents(this.work.read, session.plantId, query.kind, [query.recordId])).get(query.recordId);
    if (!content) throw new Problem('not-found', `There is no ${query.kind} ${query.recordId}.`);
    const signatures = await findSignatures(this.work.read, session.plantId, query.kind, query.recordId);
    return {
      kind: query.kind, recordId: query.recordId, title: content.title, contentHash: content.contentHash,
      author: content.authorId === null || content.author === null ? null : { id: content.authorId, name: content.author },
      signatures: signatures.map(({ chainSeq, chainHash, userId: _user, at, ...signature }) => ({ ...signature, at: at.toISOString(), chain: { seq: chainSeq.toString(), hash: chainHash }, covers: signature.contentHash === content.contentHash })),
    };
  }

  @Endpoint(listReviews)
  async reviews(@Input() { query }: InputOf<typeof listReviews>, @SignedIn() session: Session) {
    const [{ plantId, timeZone }, machineId] = [session, query.machineId ?? null];
    const days = await countWaiting(this.work.read, plantId, timeZone, machineId);
    const rows = await listWaiting(this.work.read, plantId, timeZone, { day: query.day ?? null, machineId, take: query.take });
    const contents = await listContents(this.work.read, plantId, 'check', rows.map((row) => row.check_id));
    return {
      days,
      entries: rows.flatMap((row) => {
        const content = contents.get(row.check_id);
        return content ? [{
          checkId: row.check_id, takenAt: row.taken_at.toISOString(), enteredAt: row.entered_at.toISOString(), enteredBy: { id: row.entered_by, name: row.entered_by_name }, inspector: row.inspector,
          line: row.line, machine: row.machine, product: row.product, source: row.source, subgroups: row.subgroups, outsideSpecification: row.outside, signals: row.signals ?? [],
          corrected: row.corrected, reviewedBefore: row.reviewed_before, contentHash: content.contentHash,
        }] : [];
      }),
    };
  }
}
