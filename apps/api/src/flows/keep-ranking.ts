import type { Trace } from '#contract/traces';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { version } from '../platform/version.js';
import type { Tx } from '../platform/work.js';
import { insertKeptTrace } from '../traces/kept-traces.store.js';

export type ActingPerson = Actor & { userId: number };
export type Acted = { chosen: number | null; comment: string };
const AT_LEAST = 10;

/** How many places are kept: those that the page shows at first, or down to the chosen one. */
export const placesToKeep = ({ chosen }: Acted): number => Math.max(AT_LEAST, (chosen ?? 0) + 1);

/** Keeps a ranking that was just computed, with what a person does about it. */
export async function keepRanking(tx: Tx, actor: ActingPerson, of: { incidentId: number; signalId: null } | { incidentId: null; signalId: number }, { chosen, comment }: Acted, answer: Trace, now: Date): Promise<{ id: number }> {
  if (chosen !== null && !answer.origins[chosen]) throw new Problem('invalid-input', undefined, [{ field: 'chosen', expected: `a place of the ranking, 0 to ${answer.origins.length - 1}` }]);
  const id = await insertKeptTrace(tx, actor.plantId, { ...of, keptAt: now, keptBy: actor.userId, actor: actor.name, chosen, comment, software: version, answer });
  await record(tx, actor, 'trace.kept', of.incidentId === null ? `signal ${of.signalId}` : `incident ${of.incidentId}`, { after: { traceId: id, chosen, comment } });
  await announce(tx, actor.plantId, [of.incidentId === null ? { kind: 'signal.changed', payload: { signalId: of.signalId, change: 'trace-kept' } } : { kind: 'incident.changed', payload: { incidentId: of.incidentId, change: 'trace-kept' } }]);
  return { id };
}
