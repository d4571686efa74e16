import type { DueCheck } from '#contract/due-checks';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { type Due, dueCheck, lineRunning } from './due-checks.js';
import { type DuePlan, insertDueSkip, listCountEnds, listDuePlans } from './due-plans.store.js';

export type PlanDue = { plan: DuePlan; due: Due };

/** Every plan that can fall due, with whether it is; `machineId` keeps those of one machine. */
export async function plansWithDue(tx: Tx, plantId: number, now: Date, machineId: number | null = null): Promise<PlanDue[]> {
  const [plans, ends] = await Promise.all([listDuePlans(tx, plantId, now, machineId), listCountEnds(tx, plantId, now)]);
  return plansAt(plans, new Map(ends.map((row) => [row.lineId, row.ended])), now);
}

/** Whether each of these plans is due, by when the newest cans of its line were counted. */
function plansAt(plans: readonly DuePlan[], endOf: ReadonlyMap<number, Date | null>, now: Date): PlanDue[] {
  return plans.map((plan) => {
    const since = Math.max(plan.lastCheckAt?.getTime() ?? 0, plan.lastSkipAt?.getTime() ?? 0);
    const { everyMinutes, everyCans, productRuns, minutesRun, cansRun, causes } = plan;
    const { state } = lineRunning(endOf.get(plan.lineId)?.getTime() ?? null, now.getTime());
    return { plan, due: dueCheck({ everyMinutes, everyCans, lastCheckAt: since === 0 ? null : since, productRuns, running: state, minutesRun, cansRun, openedAt: causes[0] ? Date.parse(causes[0].at) : null }, now.getTime()) };
  });
}

/** What is due now, the most overdue first; a plan that was never checked comes last, for it has no "over". */
export async function dueChecks(tx: Tx, plantId: number, now: Date): Promise<DueCheck[]> {
  return dueOf(await plansWithDue(tx, plantId, now));
}

/** The same, for a page that has read the plans and when each line was counted last. */
export const dueChecksAt = (plans: readonly DuePlan[], endOf: ReadonlyMap<number, Date | null>, now: Date): DueCheck[] => dueOf(plansAt(plans, endOf, now));

const dueOf = (plans: readonly PlanDue[]): DueCheck[] => plans.filter((entry) => entry.due.due).map(dueView).sort((a, b) => (b.minutesOver ?? -1) - (a.minutesOver ?? -1));

export function dueView({ plan, due }: PlanDue): DueCheck {
  const { lastCheckAt, lastSkipAt: _skip, productRuns: _runs, minutesRun: _minutes, cansRun: _cans, openedBy: _kinds, causes, turns, unitsEachTime, ...named } = plan;
  return {
    ...named, lastCheckAt: lastCheckAt?.toISOString() ?? null, basis: due.basis, dueAt: due.dueAt === null ? null : new Date(due.dueAt).toISOString(), minutesOver: due.minutesOver, cansOver: due.cansOver,
    cause: due.due ? causes[0] ?? null : null, moreCauses: due.due ? Math.max(0, causes.length - 1) : 0,
    units: turns === null || unitsEachTime === null ? [] : turns.slice(0, unitsEachTime).sort((a, b) => a.position - b.position).map(({ id, code }) => ({ id, code })),
  };
}

/** Keeps why a due check is not taken. What was due up to this moment is closed by it, the event that opened it included. */
export async function skipDue(tx: Tx, actor: Actor & { userId: number }, planId: number, reason: string, now: Date): Promise<{ id: number }> {
  const entry = (await plansWithDue(tx, actor.plantId, now)).find(({ plan }) => plan.planId === planId);
  if (!entry) throw new Problem('not-found', `There is no check plan ${planId} in use that can fall due.`);
  if (!entry.due.due) throw new Problem('wrong-state', `No check of "${entry.plan.plan}" is due at the moment.`);
  const eventId = entry.plan.causes[0]?.eventId ?? null;
  const id = await insertDueSkip(tx, actor.plantId, { planId, eventId, at: now, reason, skippedBy: actor.userId, actor: actor.name });
  await record(tx, actor, 'due-check.skipped', `check plan ${planId}`, { after: { skip: id, reason, eventId, minutesOver: entry.due.minutesOver, cansOver: entry.due.cansOver } });
  await announce(tx, actor.plantId, [{ kind: 'due-check.skipped', payload: { planId, machineId: entry.plan.machineId } }]);
  return { id };
}
