import type { changeStudyThresholds, getStudyThresholds, StudyThresholds } from '#contract/gauge-studies';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import { type Actor, record } from '../platform/audit.js';
import type { Tx, Work } from '../platform/work.js';
import { findThresholds, insertThresholds } from './study-thresholds.store.js';

/** What a plant that has set nothing begins with: common practice, no source. */
export const USUAL_THRESHOLDS: StudyThresholds = { gaugeAccept: 0.1, gaugeReject: 0.3, categories: 5, kappaAccept: 0.75, kappaReject: 0.4, source: 'common practice, no source' };

export async function thresholdsOf(tx: Tx, plantId: number): Promise<AnswerOf<typeof getStudyThresholds>> {
  const found = await findThresholds(tx, plantId);
  return found ?? { ...USUAL_THRESHOLDS, setBy: null, setAt: null, reason: null };
}

/** The bare figures, as a result keeps them. */
export async function thresholdsInForce(tx: Tx, plantId: number): Promise<StudyThresholds> {
  const { setBy: _by, setAt: _at, reason: _reason, ...thresholds } = await thresholdsOf(tx, plantId);
  return thresholds;
}

export function setThresholds(work: Work, actor: Actor & { userId: number }, change: InputOf<typeof changeStudyThresholds>['body'], now: Date) {
  return work.run(async (tx) => {
    const before = await thresholdsOf(tx, actor.plantId);
    await insertThresholds(tx, actor.plantId, { ...change, authorId: actor.userId, createdAt: now });
    await record(tx, actor, 'study-thresholds.changed', 'study thresholds', { before, after: change });
    return thresholdsOf(tx, actor.plantId);
  });
}
