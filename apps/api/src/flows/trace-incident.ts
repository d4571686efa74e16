import { findDefect } from '#canmaking/defects/taxonomy';
import type { Trace } from '#contract/traces';
import { Problem } from '#contract/problem';
import type { Tx, Work } from '../platform/work.js';
import { findTracedIncident } from '../traces/evidence.store.js';
import { type Acted, type ActingPerson, EVERY_PLACE, keepRanking } from './keep-ranking.js';
import { traceCans } from './trace-cans.js';

/** Ranks where the fault of a complaint can have begun, from what it says of the cans. */
export async function traceIncident(tx: Tx, plantId: number, incidentId: number, take: number, now: Date): Promise<Trace> {
  const incident = await findTracedIncident(tx, plantId, incidentId);
  if (!incident) throw new Problem('not-found', `There is no incident ${incidentId}.`);
  const { madeAt, madeUntil, codedAtStepId, defect, ...cans } = incident;
  return traceCans(tx, plantId, {
    ...cans, madeAt, madeUntil: madeUntil ?? madeAt, at: codedAtStepId === null ? null : { stepId: codedAtStepId },
    defect: { code: defect, name: findDefect(defect)?.name ?? defect, by: 'complaint' },
  }, take, now);
}

/** Keeps the ranking of this moment with the name of the person who acts on it. */
export function keepTrace(work: Work, actor: ActingPerson, incidentId: number, acted: Acted, now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => keepRanking(tx, actor, { incidentId, signalId: null }, acted, await traceIncident(tx, actor.plantId, incidentId, EVERY_PLACE, now), now));
}
