import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { listWeldPositions } from '#contract/weld-windows';
import { Endpoint, Input, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { weldPositions } from './weld-positions.js';

@Controller()
export class WeldPositionsController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listWeldPositions)
  list(@Input() { query }: InputOf<typeof listWeldPositions>, @SignedIn() session: Session) {
    return weldPositions(this.work.read, session.plantId, query);
  }
}
