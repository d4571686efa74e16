import type { AnswerOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { PlanTakeOver, takeOverPlan as takeOverPlanEndpoint } from '#contract/planner';
import { inOrder } from '#statistics/rules/run-rules';
import type { Actor } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { countLimits, countOtherStreams, findStreamView, updateStream } from '../specifications/planning.store.js';
import { refuseUnusable } from '../specifications/set-up.js';
import { lockCheckPlan } from '../specifications/set-up.store.js';
import { revisePlan } from '../specifications/write-check-plan.js';
import { lockStream, recordStream } from './change-stream.js';
import { sourceOfInterval } from './source-of-interval.js';
import { fedBy, measuredFor } from './stream-variation.js';

/** A compared plan becomes what is done: cans, positions and interval of the check plan and the rules of the stream, all or nothing. */
export async function takeOverPlan(tx: Tx, actor: Actor, streamId: number, asked: PlanTakeOver, now: Date): Promise<AnswerOf<typeof takeOverPlanEndpoint>> {
  const { plantId } = actor;
  const { scheme, cans, positions, everyMinutes, reason } = asked;
  // 1. What a stream cannot hold is refused before anything is touched.
  if (scheme.kind !== 'rules') throw new Problem('invalid-input', undefined, [{ field: 'scheme.kind', expected: 'run rules: an EWMA or CUSUM chart can be compared, but a stream cannot be charted by it yet' }]);

  // 2. One writer a stream; the plan must be one that feeds it.
  const stream = await lockStream(tx, plantId, streamId);
  const [view, before] = [await findStreamView(tx, plantId, streamId), await lockCheckPlan(tx, plantId, asked.checkPlanId)];
  if (!view || !before) throw new Problem('not-found', `There is no check plan ${asked.checkPlanId}.`);
  if (before.machineId !== stream.machineId || before.productId !== stream.productId || !measuredFor(view.characteristic).every((code) => before.characteristics.includes(code))) {
    throw new Problem('invalid-input', undefined, [{ field: 'checkPlanId', expected: `a check plan of machine ${view.machine.code} and product ${view.product.code} that asks for ${measuredFor(view.characteristic).join(', ')}` }]);
  }
  if (before.retiredAt !== null) throw new Problem('wrong-state', `Check plan "${before.name}" is retired. Take it back into use under Set-up, or choose another.`);

  // 3. The plan and the rules.
  const rules = inOrder(scheme.rules);
  const { plantId: _plant, id: _id, machineId, productId: _product, retiredAt, revision: _revision, ...kept } = before;
  const plan = { ...kept, cans, positions, everyMinutes, intervalSource: sourceOfInterval(asked.figures, view.characteristic, now) };
  await refuseUnusable(tx, plantId, machineId, plan);
  await revisePlan(tx, actor, before, { ...plan, retiredAt }, reason, now, { figures: asked.figures, stream: streamId });
  await updateStream(tx, plantId, streamId, { rules });

  // 4. Who did what; what others should hear of.
  await recordStream(tx, actor, stream, { rules, chartKind: stream.chartKind }, reason);
  const sameMean = positions.length === before.positions.length && (stream.chartKind !== 'i-mr' || cans === before.cans);
  return {
    checkPlanId: before.id, intervalSource: plan.intervalSource, rules, judgesFrom: 'next-check', revision: stream.revision,
    otherStreams: await countOtherStreams(tx, plantId, stream, await fedBy(tx, plantId, before.characteristics)),
    limitsStillFit: sameMean || (await countLimits(tx, plantId, streamId)) === 0,
  };
}
