import type { z } from 'zod';
import type { newBeforeAfterStudy } from '#contract/capability-studies';
import { verifyEffect } from '../incidents/verify-effect.js';
import type { Actor } from '../platform/audit.js';
import { readOneMoment } from '../platform/one-moment.js';
import { version } from '../platform/version.js';
import type { Work } from '../platform/work.js';
import { findStreamOf } from '../studies/stream-of.store.js';
import { noteStudy, requireReplaceable } from '../studies/study-records.js';
import { insertStudyRecord } from '../studies/study-records.store.js';
import { hashInputs, type InputsScope } from '../studies/study-inputs.store.js';

/** The comparison that incidents use, around a change on any stream, kept as a draft with what it rests on. */
export async function keepBeforeAfter(work: Work, actor: Actor & { userId: number }, { title, note, supersedesId, asked }: z.output<typeof newBeforeAfterStudy>, now: Date): Promise<{ id: number }> {
  const { plantId } = actor;
  const { answer, stream, inputs, hash } = await work.run(async (tx) => {
    await readOneMoment(tx);
    const answer = await verifyEffect(tx, plantId, asked);
    const stream = await findStreamOf(tx, plantId, asked.streamId);
    const scope: InputsScope = { streamId: asked.streamId, product: null, machine: null, characteristic: null, unit: null, lane: null, spans: [{ ...asked.before, withEnd: true }, { ...asked.after, withEnd: true }], leftOut: [] };
    const { hash, subgroups } = await hashInputs(tx, plantId, scope);
    return { answer, stream, inputs: { scope, subgroups }, hash };
  }, 60_000);
  return work.run(async (tx) => {
    await requireReplaceable(tx, plantId, supersedesId, 'before-after');
    const id = await insertStudyRecord(tx, actor, { kind: 'before-after', title, note, state: 'draft', ...stream, gaugeId: null, question: asked, inputs, inputsHash: hash, results: answer, version, authorId: actor.userId, createdAt: now, supersedesId });
    await noteStudy(tx, actor, 'study.kept', id, { kind: 'before-after', title, asked, inputsHash: hash });
    return { id };
  });
}
