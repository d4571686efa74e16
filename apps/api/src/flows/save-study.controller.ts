import { Controller, Inject, Req } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { saveStudy as saveStudyEndpoint } from '#contract/studies';
import { actorOf } from '../platform/actor.js';
import { Endpoint, Input, type Request, type Session, SignedIn } from '../platform/endpoint.js';
import { Work } from '../platform/work.js';
import { Runs } from '../workbench/runs.js';
import { saveStudy } from './save-study.js';

@Controller()
export class SaveStudyController {
  constructor(@Inject(Work) private readonly work: Work, @Inject(Runs) private readonly runs: Runs) {}

  @Endpoint(saveStudyEndpoint)
  save(@Input() { body }: InputOf<typeof saveStudyEndpoint>, @SignedIn() session: Session, @Req() request: Request) {
    return saveStudy(this.work, this.runs, actorOf(session), body, request.ip);
  }
}
