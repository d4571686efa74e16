import { isStepKind, stepKinds } from '#canmaking/line/steps';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { ReactionPlan, ReactionScope, writeReactionPlan } from '#contract/reaction-plans';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import * as store from './reaction-plans.store.js';

const scopeKey = (scope: ReactionScope) => (scope.kind === 'stream' ? `stream ${scope.streamId}` : `step ${scope.characteristicId} ${scope.stepKind}`);

/** The newest version of each plan, those that were taken back included. */
export async function newestPlans(tx: Tx, plantId: number): Promise<ReactionPlan[]> {
  const newest = new Map<string, ReactionPlan>();
  for (const plan of await store.listVersions(tx, plantId)) if ((newest.get(scopeKey(plan.scope))?.version ?? 0) < plan.version) newest.set(scopeKey(plan.scope), plan);
  return [...newest.values()];
}

/** The plan that holds for each stream: that of the chart, else that of its characteristic and step; none where it was taken back. */
export async function plansOfStreams(tx: Tx, plantId: number, streamIds: readonly number[]): Promise<Map<number, ReactionPlan>> {
  if (streamIds.length === 0) return new Map();
  const byScope = new Map((await newestPlans(tx, plantId)).filter(({ steps }) => steps.length > 0).map((plan) => [scopeKey(plan.scope), plan]));
  const found = new Map<number, ReactionPlan>();
  for (const { streamId, characteristicId, stepKind } of await store.findStreamPlaces(tx, plantId, streamIds)) {
    const plan = byScope.get(scopeKey({ kind: 'stream', streamId })) ?? byScope.get(scopeKey({ kind: 'step', characteristicId, stepKind }));
    if (plan) found.set(streamId, plan);
  }
  return found;
}

/** Newest versions; for a stream the plan that holds, with all of its versions where the history is asked for. */
export async function listPlans(tx: Tx, plantId: number, { stream, history }: { stream?: number; history?: boolean }): Promise<ReactionPlan[]> {
  if (stream === undefined) return history ? store.listVersions(tx, plantId) : newestPlans(tx, plantId);
  const plan = (await plansOfStreams(tx, plantId, [stream])).get(stream);
  if (!plan) return [];
  return history ? store.listVersions(tx, plantId, asked(plan.scope)) : [plan];
}

/** Adds the next version; nobody overwrites what somebody else wrote meanwhile. */
export async function writePlan(tx: Tx, actor: Actor & { userId: number }, { scope, steps, reason, after }: InputOf<typeof writeReactionPlan>['body'], now: Date): Promise<ReactionPlan> {
  const { plantId } = actor;
  await store.lockReactionPlans(tx, plantId);
  if (scope.kind === 'stream' && (await store.findStreamPlaces(tx, plantId, [scope.streamId])).length === 0) throw new Problem('not-found', `There is no chart ${scope.streamId}.`);
  if (scope.kind === 'step') {
    if (!(await store.characteristicExists(tx, plantId, scope.characteristicId))) throw new Problem('not-found', `There is no characteristic ${scope.characteristicId}.`);
    if (!isStepKind(scope.stepKind)) throw new Problem('invalid-input', undefined, [{ field: 'scope.stepKind', expected: `one of ${stepKinds.join(', ')}` }]);
  }
  const before = (await store.listVersions(tx, plantId, asked(scope)))[0];
  if ((before?.version ?? 0) !== after) throw new Problem('changed-meanwhile', `The plan is at version ${before?.version ?? 0} by now; you saw version ${after}.`);
  if (steps.length === 0 && (before?.steps.length ?? 0) === 0) throw new Problem('invalid-input', undefined, [{ field: 'steps', expected: 'at least one step: there is no plan to take back' }]);
  const columns = scope.kind === 'stream' ? { streamId: scope.streamId, characteristicId: null, stepKind: null } : { streamId: null, characteristicId: scope.characteristicId, stepKind: scope.stepKind };
  const id = await store.insertReactionPlan(tx, plantId, { ...columns, version: after + 1, steps, author: actor.name, authorId: actor.userId, reason, at: now });
  await record(tx, actor, 'reaction-plan.written', `reaction plan ${id}`, { before: before && { id: before.id, steps: before.steps }, after: { scope, version: after + 1, steps, reason } });
  const [stored] = await store.listVersions(tx, plantId, { id });
  if (!stored) throw new Problem('internal');
  return stored;
}

const asked = (scope: ReactionScope) => (scope.kind === 'stream' ? { streamId: scope.streamId } : { characteristicId: scope.characteristicId, stepKind: scope.stepKind });
