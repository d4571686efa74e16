import type { Trace } from '#contract/traces';
import { Problem } from '#contract/problem';
import { traceOrigins } from '#tracing/trace-origins';
import type { Evidence } from '#tracing/evidence';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { version } from '../platform/version.js';
import type { Tx, Work } from '../platform/work.js';
import * as store from '../traces/evidence.store.js';
import { insertKeptTrace } from '../traces/kept-traces.store.js';
import { traceView } from '../traces/trace.view.js';

const DAY = 86_400_000;
/** How much of the records round the window is looked at: enough to know what was usual, not so much that another fault gets in. */
const [DAYS_BEFORE, DAYS_AFTER] = [6, 3];

/** Reads what the plant has on record round the time the cans were made, and ranks where the fault can have begun. */
export async function traceIncident(tx: Tx, plantId: number, incidentId: number, now: Date): Promise<Trace> {
  const incident = await store.findTracedIncident(tx, plantId, incidentId);
  if (!incident) throw new Problem('not-found', `There is no incident ${incidentId}.`);
  const line = await store.findTracedLine(tx, plantId, incident.lineId);
  const codedAt = line?.map.steps.find(({ id }) => id === incident.codedAtStepId) ?? line?.map.steps.find(({ kind }) => kind === 'seamer') ?? line?.map.steps.at(-1);
  if (!line || !codedAt) throw new Problem('cannot-compute', 'The line has no steps: set it up first.');
  const [made, madeUntil] = [incident.madeAt.getTime(), (incident.madeUntil ?? incident.madeAt).getTime()];
  const span = { from: new Date(made - DAYS_BEFORE * DAY), until: new Date(Math.min(now.getTime(), madeUntil + DAYS_AFTER * DAY)) };
  const streams = await store.listTracedStreams(tx, plantId, incident.lineId, incident.productId, span, incident.madeAt);
  const [counts, signals, checks, plans, events] = await Promise.all([
    store.listCountSpans(tx, plantId, incident.lineId, span), store.listTracedSignals(tx, plantId, streams.map(({ traced }) => traced.id), span), store.listTracedChecks(tx, plantId, incident.lineId, span),
    store.listTracedPlans(tx, plantId, incident.lineId, incident.productId, incident.madeAt), store.listTracedEvents(tx, plantId, incident.lineId, span),
  ]);
  const evidence: Evidence = {
    line: line.map, counts, signals, checks, plans, events, streams: streams.map(({ traced }) => traced), now: span.until.getTime(),
    complaint: { defect: incident.defect, leakPlace: incident.leakPlace, from: made, until: Math.max(made, madeUntil), codedAtStepId: codedAt.id, laneId: incident.laneId, unitId: incident.unitId },
  };
  return traceView({ evidence, traced: traceOrigins(evidence), line, streams, span, asOf: now });
}

/** Keeps the ranking of this moment with the name of the person who acts on it. */
export function keepTrace(work: Work, actor: Actor & { userId: number }, incidentId: number, { chosen, comment }: { chosen: number | null; comment: string }, now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const answer = await traceIncident(tx, actor.plantId, incidentId, now);
    if (chosen !== null && !answer.origins[chosen]) throw new Problem('invalid-input', undefined, [{ field: 'chosen', expected: `a place of the ranking, 0 to ${answer.origins.length - 1}` }]);
    const id = await insertKeptTrace(tx, actor.plantId, { incidentId, keptAt: now, keptBy: actor.userId, actor: actor.name, chosen, comment, software: version, answer });
    await record(tx, actor, 'trace.kept', `incident ${incidentId}`, { after: { traceId: id, chosen, comment } });
    await announce(tx, actor.plantId, [{ kind: 'incident.changed', payload: { incidentId, change: 'trace-kept' } }]);
    return { id };
  });
}
