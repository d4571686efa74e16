import { originKey, refOf, type SeenOrigin, standsOtherwise } from '#contract/trace-places';
import type { Trace } from '#contract/traces';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { version } from '../platform/version.js';
import type { Tx } from '../platform/work.js';
import { placeName } from '../traces/kept-trace.view.js';
import { insertKeptTrace } from '../traces/kept-traces.store.js';
import { firstPlaces } from '../traces/trace.view.js';

export type ActingPerson = Actor & { userId: number };
export type Acted = { chosen: SeenOrigin | null; comment: string };
/** A ranking is compared with what was seen over all its places, and kept down to those that the page shows at first, or the chosen one. */
export const EVERY_PLACE = Number.MAX_SAFE_INTEGER;
const AT_LEAST = 10;

/**
 * Keeps a ranking of all places that was just computed, with what a person does about one of them.
 * @throws Problem changed-meanwhile where that one does not stand as the person saw it: nobody is recorded as acting on what they did not see
 */
export async function keepRanking(tx: Tx, actor: ActingPerson, of: { incidentId: number; signalId: null } | { incidentId: null; signalId: number }, { chosen: seen, comment }: Acted, all: Trace, now: Date): Promise<{ id: number }> {
  const chosen = seen === null ? null : placeNow(seen, all);
  const answer = firstPlaces(all, Math.max(AT_LEAST, (chosen ?? 0) + 1));
  const id = await insertKeptTrace(tx, actor.plantId, { ...of, keptAt: now, keptBy: actor.userId, actor: actor.name, chosen, comment, software: version, answer });
  await record(tx, actor, 'trace.kept', of.incidentId === null ? `signal ${of.signalId}` : `incident ${of.incidentId}`, { after: { traceId: id, chosen, comment } });
  await announce(tx, actor.plantId, [of.incidentId === null ? { kind: 'signal.changed', payload: { signalId: of.signalId, change: 'trace-kept' } } : { kind: 'incident.changed', payload: { incidentId: of.incidentId, change: 'trace-kept' } }]);
  return { id };
}

const NOT_KEPT = 'Nothing was kept: look at the ranking as it stands now.';
const standing = ({ place, share }: Pick<SeenOrigin, 'place' | 'share'>): string => `place ${place + 1} with ${(share * 100).toFixed(0)} %`;

function placeNow(seen: SeenOrigin, { origins }: Trace): number {
  const place = origins.findIndex((origin) => originKey(refOf(origin)) === originKey(seen));
  const origin = origins[place];
  if (!origin) throw new Problem('changed-meanwhile', `The place that you chose, ${standing(seen)} when you saw it, is not in the ranking any more. ${NOT_KEPT}`);
  if (standsOtherwise(seen, { place, share: origin.share })) throw new Problem('changed-meanwhile', `The ranking changed since you saw it: ${placeName(origin)} stood at ${standing(seen)}, it stands at ${standing({ place, share: origin.share })} now. ${NOT_KEPT}`);
  return place;
}
