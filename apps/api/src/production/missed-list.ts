import { type CountSpan, missedEvents, missedIntervals, type PlanAt, type PlanHistory, whileInUse } from '#canmaking/line/missed-checks';
import { NOT_ON_RECORD } from '#contract/check-plans';
import type { MissedCheck } from '#contract/due-checks';
import type { Tx } from '../platform/work.js';
import * as store from './missed.store.js';

type Asked = { from: Date; to: Date; machine?: number; line?: number };
const iso = (at: number) => new Date(at).toISOString();

/** What is on record of a plan in a period, as the rule takes it; the period is that in which the plan was in use. */
export type PlanOnRecord = { plan: store.MissedPlan; history: PlanHistory; period: { from: number; to: number }; events: readonly store.MissedCause[] };

/** The plans of a plant, a line or a machine that were in use in a period, each with its checks, skips, counts and events of the log book. */
export async function plansOnRecord(tx: Tx, plantId: number, { from, to, machine, line }: Asked, now: Date): Promise<PlanOnRecord[]> {
  const span = { from, to: to < now ? to : now };
  if (span.from >= span.to) return [];
  const [plans, changes, causes] = await Promise.all([store.listMissedPlans(tx, plantId, span, machine ?? null, line ?? null), store.listProductChanges(tx, plantId, span), store.listCauses(tx, plantId, span)]);
  const counted = [...new Set(plans.flatMap(({ countedId }) => countedId ?? []))];
  const counts = new Map(counted.map((id): [number, CountSpan[]] => [id, []]));
  for (const { machineId, at, minutes, cans } of counted.length === 0 ? [] : await store.listCounts(tx, plantId, counted, span)) counts.get(machineId)?.push({ from: at.getTime(), minutes, cans });
  return plans.flatMap((plan): PlanOnRecord[] => {
    const period = { from: Math.max(span.from.getTime(), firstState(plan)), to: Math.min(span.to.getTime(), plan.retiredAt?.getTime() ?? Number.POSITIVE_INFINITY) };
    if (period.from >= period.to) return [];
    const events = causes.filter((event) => event.lineId === plan.lineId && (event.machineId === null || event.machineId === plan.machineId));
    return [{ plan, period, events, history: historyOf(plan, productSpans(plan, changes), counts, events) }];
  });
}

/** What a period should have had and has not, and what was skipped with a reason; oldest first. */
export async function missedChecks(tx: Tx, plantId: number, asked: Asked, now: Date): Promise<MissedCheck[]> {
  const found = (await plansOnRecord(tx, plantId, asked, now)).flatMap(({ plan, history, period, events }): MissedCheck[] => {
    const { planId, plan: name, machineId, machine: code, line: lineCode, product, now: said } = plan;
    const common = { planId, plan: name, machineId, machine: code, line: lineCode, product };
    const next = (until: number | null) => (until === null ? null : iso(until));
    return [
      ...missedIntervals(history, period).map((gap): MissedCheck => ({ kind: 'interval', ...common, ...gap, from: iso(gap.from), until: next(gap.until), source: gap.unit === 'cans' ? said.cansSource : said.intervalSource })),
      ...missedEvents(history, period, now.getTime()).flatMap(({ from: at, until, eventId }): MissedCheck[] => {
        const event = events.find(({ id }) => id === eventId);
        return event ? [{ kind: 'event', ...common, from: iso(at), until: next(until), cause: { eventId, kind: event.kind, at: iso(at), text: event.text, machine: event.machine }, source: said.eventsSource }] : [];
      }),
      ...plan.skips.filter(({ at }) => Date.parse(at) >= period.from && Date.parse(at) < period.to).map(({ at, reason, by }): MissedCheck => ({ kind: 'skipped', ...common, from: at, reason, by })),
    ];
  });
  return found.sort((a, b) => a.from.localeCompare(b.from));
}

/** Since when the plan is on record (the date of a state that is not is that of the first change after it): a plan that was written yesterday lacks nothing of last week. */
const firstState = ({ revisions }: store.MissedPlan): number => {
  const [first] = revisions;
  return first && first.revision === 1 && first.author !== NOT_ON_RECORD ? Date.parse(first.at) : 0;
};

/** What the plan said over time; it was not in use before it was written, nor after it was taken out of use. */
function statesOf(plan: store.MissedPlan): PlanAt[] {
  const [first, ...later] = plan.revisions.map(({ at, ...said }): PlanAt => ({ ...said, at: Date.parse(at) }));
  if (!first) return [{ at: 0, ...plan.now }, ...(plan.retiredAt === null ? [] : [{ at: plan.retiredAt.getTime(), ...plan.now, retired: true }])];
  return [...(firstState(plan) > 0 ? [{ ...first, at: 0, retired: true }] : []), first, ...later];
}

function historyOf(plan: store.MissedPlan, spans: PlanHistory['productSpans'], counts: ReadonlyMap<number, CountSpan[]>, events: readonly store.MissedCause[]): PlanHistory {
  const marks = [...plan.checks.map((at) => ({ at: Date.parse(at), skip: false })), ...plan.skips.map(({ at }) => ({ at: Date.parse(at), skip: true }))].sort((a, b) => a.at - b.at);
  const states = statesOf(plan);
  return {
    states, marks, productSpans: whileInUse(spans, states),
    counts: plan.countedId === null ? null : counts.get(plan.countedId) ?? [],
    events: events.map(({ id, kind, at, until }) => ({ id, kind, at: at.getTime(), until: until?.getTime() ?? null })),
  };
}

/** When the line made the plan's product, by the checks of the line; null where no check tells. */
function productSpans({ lineId, productId }: store.MissedPlan, changes: readonly { lineId: number; productId: number; at: Date }[]): PlanHistory['productSpans'] {
  const ofLine = changes.filter((change) => change.lineId === lineId);
  if (ofLine.length === 0) return null;
  return ofLine.flatMap((change, index) => (change.productId === productId
    ? [{ from: index === 0 ? 0 : change.at.getTime(), until: ofLine[index + 1]?.at.getTime() ?? Number.MAX_SAFE_INTEGER }] : []));
}
