import { Problem } from '#contract/problem';
import type { StudyRecordState } from '#contract/capability-studies';
import type { Signer } from '../platform/actor.js';
import type { Actor } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { noteStudy } from '../studies/study-records.js';
import { insertStudyStep, lockStudyRecord, updateStudyRecord } from '../studies/study-records.store.js';
import { confirmPassword } from '../users/confirm-password.js';
import { signWithin } from './sign-records.js';

type Step = { state: 'checked' | 'approved'; contentHash: string; password: string; comment: string };
type Moved = { id: number; state: StudyRecordState };

/** Signs a study and moves it on in one act: draft to checked, checked to approved; never by its author. */
export async function stepStudy(work: Work, signer: Signer, id: number, { state, contentHash, password, comment }: Step, now: Date): Promise<Moved> {
  await confirmPassword(work, signer, password, now);
  return work.run(async (tx) => {
    const { plantId } = signer;
    const study = await lockStudyRecord(tx, plantId, id);
    const needed = state === 'checked' ? 'draft' : 'checked';
    if (study.state !== needed) throw new Problem('wrong-state', `A study is ${state === 'checked' ? 'checked as a draft' : 'approved after it was checked'}; this one is ${study.state}. Nothing was signed.`);
    if (study.authorId === signer.userId) throw new Problem('wrong-state', 'You made this study yourself: checking and approving need a second person. Nothing was signed.');
    await signWithin(tx, signer, { records: [{ kind: 'study-record', recordId: id, contentHash }], meaning: state === 'checked' ? 'reviewed' : 'approved', comment }, now);
    await updateStudyRecord(tx, plantId, id, state === 'approved' ? { state, approvedAt: now } : { state });
    await insertStudyStep(tx, signer, id, state, comment, now);
    await noteStudy(tx, signer, `study.${state}`, id, { comment, contentHash });
    if (state === 'approved' && study.supersedesId !== null) {
      const old = await lockStudyRecord(tx, plantId, study.supersedesId).catch(unlessGone);
      if (old && old.state !== 'superseded') {
        await updateStudyRecord(tx, plantId, old.id, { state: 'superseded', supersededById: id });
        await insertStudyStep(tx, signer, old.id, 'superseded', `by study ${id}`, now);
        await noteStudy(tx, signer, 'study.superseded', old.id, { by: id });
      }
    }
    return { id, state };
  });
}

/** Another study may have taken its place first, and an act of retention may have deleted it since. */
function unlessGone(error: unknown): null {
  if (error instanceof Problem && error.code === 'not-found') return null;
  throw error;
}

/** A study that is not approved leaves the list of what counts, with the reason; it stays on record. */
export function setAside(work: Work, actor: Actor & { userId: number }, id: number, reason: string, now: Date): Promise<Moved> {
  return work.run(async (tx) => {
    const study = await lockStudyRecord(tx, actor.plantId, id);
    if (study.state === 'approved' || study.state === 'superseded') throw new Problem('wrong-state', study.state === 'approved' ? 'An approved study is only superseded by a newer one.' : 'The study is superseded already.');
    await updateStudyRecord(tx, actor.plantId, id, { state: 'superseded' });
    await insertStudyStep(tx, actor, id, 'superseded', reason, now);
    await noteStudy(tx, actor, 'study.set-aside', id, { reason });
    return { id, state: 'superseded' };
  });
}
