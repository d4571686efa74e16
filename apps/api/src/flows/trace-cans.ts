import type { Trace } from '#contract/traces';
import { Problem } from '#contract/problem';
import type { Evidence } from '#tracing/evidence';
import { traceOrigins } from '#tracing/trace-origins';
import type { Tx } from '../platform/work.js';
import { plansOnRecord } from '../production/missed-list.js';
import * as store from '../traces/evidence.store.js';
import { weightsInForce } from '../traces/origin-weights.js';
import { traceView } from '../traces/trace.view.js';

const DAY = 86_400_000;
/** How much of the records round the window is looked at: enough to know what was usual, not so much that another fault gets in. */
const [DAYS_BEFORE, DAYS_AFTER] = [6, 3];

/** Cans about which something is asked: of which line and product, when they passed which step, and what is wrong with them. */
export type TracedCans = {
  lineId: number; productId: number; madeAt: Date; madeUntil: Date;
  /** The step at which they passed then: a step, the step of a machine, or null where a line codes its cans at the seamer. */
  at: { stepId: number } | { machineId: number } | null;
  laneId: number | null; unitId: number | null; defect: NonNullable<Trace['defect']>; leakPlace: string;
  seenAt?: Evidence['seenAt'];
};

/** Reads what the plant has on record round that time, and ranks where the fault can have begun. */
export async function traceCans(tx: Tx, plantId: number, cans: TracedCans, take: number, now: Date): Promise<Trace> {
  const line = await store.findTracedLine(tx, plantId, cans.lineId);
  const steps = line?.map.steps ?? [];
  const { at } = cans;
  const codedAt = steps.find(({ id, machines }) => at !== null && ('stepId' in at ? id === at.stepId : machines.some((machine) => machine.id === at.machineId))) ?? steps.find(({ kind }) => kind === 'seamer') ?? steps.at(-1);
  if (!line || !codedAt) throw new Problem('cannot-compute', 'The line has no steps: set it up first.');
  const [from, until] = [cans.madeAt.getTime(), Math.max(cans.madeAt.getTime(), cans.madeUntil.getTime())];
  const span = { from: new Date(from - DAYS_BEFORE * DAY), until: new Date(Math.min(now.getTime(), until + DAYS_AFTER * DAY)) };
  const streams = await store.listTracedStreams(tx, plantId, cans.lineId, cans.productId, span, cans.madeAt);
  const [counts, signals, checks, plans, events] = await Promise.all([
    store.listCountSpans(tx, plantId, cans.lineId, span), store.listTracedSignals(tx, plantId, streams.map(({ traced }) => traced.id), span), store.listTracedChecks(tx, plantId, cans.lineId, span),
    plansOnRecord(tx, plantId, { from: span.from, to: span.until, line: cans.lineId }, now), store.listTracedEvents(tx, plantId, cans.lineId, span),
  ]);
  const weights = await weightsInForce(tx, plantId, cans.defect.code);
  const evidence: Evidence = {
    line: line.map, counts, signals, checks, events, plans: plans.filter(({ plan }) => plan.productId === cans.productId).map(({ plan, history }) => ({ id: plan.planId, machineId: plan.machineId, name: plan.plan, history })),
    streams: streams.map(({ traced }) => traced), now: span.until.getTime(), seenAt: cans.seenAt,
    complaint: { defect: cans.defect.code, leakPlace: cans.leakPlace, from, until, codedAtStepId: codedAt.id, laneId: cans.laneId, unitId: cans.unitId, ...(weights && { origins: weights.origins }) },
  };
  return { ...traceView({ evidence, traced: traceOrigins(evidence), line, streams, span, asOf: now, defect: cans.defect, take }), weights: weights?.version ?? null };
}
