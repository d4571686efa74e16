import { randomUUID } from 'node:crypto';
import type { z } from 'zod';
import { Problem } from '#contract/problem';
import type { newStudy } from '#contract/studies';

import { type Actor, record } from '../platform/audit.js';
import { version } from '../platform/version.js';
import type { Work } from '../platform/work.js';
import { insertStudy, type KeptAnswer, sealOfStudy } from '../studies/kept-studies.store.js';
import type { Runs } from '../workbench/runs.js';

/**
 * Computes every request anew and keeps numbers and answers together: a study holds what this program answers, not what
 * a client says it answered. Nothing is stored when one of them cannot be computed.
 * @throws Problem of the computation, its detail naming the method
 */
export async function saveStudy(work: Work, runs: Runs, actor: Actor & { userId: number }, study: z.output<typeof newStudy>, client: string): Promise<{ id: number }> {
  const answers: KeptAnswer[] = [];
  for (const { method, body } of study.requests) {
    try {
      const bytes = Buffer.from(JSON.stringify(body));
      answers.push({ method, body, answer: JSON.parse(await runs.compute(randomUUID(), `/api/workbench/${method}`, bytes, client, new AbortController().signal)) });
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      throw new Problem(error.code, `${method}: ${error.detail ?? error.message}`, error.errors?.map((one) => ({ ...one, field: `${method}.${one.field}` })));
    }
  }
  return work.run(async (tx) => {
    const { title, note, state } = study;
    const id = await insertStudy(tx, actor.plantId, { title, note, state, answers, version, authorId: actor.userId });
    await record(tx, actor, 'study kept', `study ${id}`, { after: { title, methods: answers.map(({ method }) => method), seal: await sealOfStudy(tx, actor.plantId, id) } });
    return { id };
  });
}
