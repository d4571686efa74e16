import { type CheckPlanRevision, NOT_ON_RECORD } from '#contract/check-plans';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { refuseDuplicate } from '../platform/unique.js';
import type { Tx } from '../platform/work.js';
import { insertPlanRevision, listPlanRevisions, sheetOf } from './check-plan-revisions.store.js';
import { findCheckPlan, insertCheckPlan, type PlanFields, updateCheckPlan } from './set-up.store.js';

type StoredPlan = NonNullable<Awaited<ReturnType<typeof findCheckPlan>>>;

/** Stores a new plan as its first revision. */
export async function makePlan(tx: Tx, actor: Actor, plan: PlanFields & { machineId: number; productId: number }, reason: string, now: Date): Promise<number> {
  const id = await refuseDuplicate(insertCheckPlan(tx, actor.plantId, plan), 'name', 'a name that no other check plan of this machine and product has');
  await insertPlanRevision(tx, actor.plantId, id, { revision: 1, at: now, author: actor.name, reason, plan: sheetOf({ ...plan, retiredAt: null }) });
  await record(tx, actor, 'check-plan.made', `check plan ${id}`, { after: { ...plan, reason } });
  return id;
}

/** Replaces a plan and keeps what it said before: each state with who, when and why. */
export async function revisePlan(tx: Tx, actor: Actor, before: StoredPlan, plan: PlanFields & { retiredAt: Date | null }, reason: string, now: Date, more: object = {}): Promise<void> {
  const { plantId } = actor;
  await insertPlanRevision(tx, plantId, before.id, { revision: before.revision, at: now, author: NOT_ON_RECORD, reason: 'As it stood before its first recorded change.', plan: sheetOf(before) });
  await refuseDuplicate(updateCheckPlan(tx, plantId, before.id, { ...plan, revision: before.revision + 1 }), 'name', 'a name that no other check plan of this machine and product has');
  await insertPlanRevision(tx, plantId, before.id, { revision: before.revision + 1, at: now, author: actor.name, reason, plan: sheetOf(plan) });
  await record(tx, actor, 'check-plan.changed', `check plan ${before.id}`, { before, after: { ...plan, ...more, reason } });
}

/** Newest first; a plan that was never changed has at least its present state. */
export async function planRevisions(tx: Tx, plantId: number, planId: number, now: Date): Promise<{ planId: number; revisions: CheckPlanRevision[] }> {
  const plan = await findCheckPlan(tx, plantId, planId);
  if (!plan) throw new Problem('not-found', `There is no check plan ${planId}.`);
  const revisions = await listPlanRevisions(tx, plantId, planId);
  if (revisions.length > 0) return { planId, revisions };
  return { planId, revisions: [{ revision: plan.revision, at: now.toISOString(), author: NOT_ON_RECORD, reason: '', plan: sheetOf(plan) }] };
}
