import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listChecks } from '#contract/inspections';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { narrowSpan } from '../platform/scope.js';
import { Work } from '../platform/work.js';
import { listChecks as listCheckRows } from './check-page.store.js';
import { checkListed } from './check.view.js';

@Controller()
export class InspectionsController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listChecks)
  async list(@Input() { query }: InputOf<typeof listChecks>, @SignedIn() session: Session) {
    return { checks: (await listCheckRows(this.work.read, session.plantId, narrowSpan(query, session.scope), session.scope?.customer ?? null)).map(checkListed) };
  }
}
