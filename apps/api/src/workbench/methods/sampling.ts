import { doublePlanCurve, exactShare, planForTwoPoints, singlePlanCurve, zeroAcceptance } from '#contract/workbench/sampling';
import { doublePlan } from '#statistics/sampling/double-plan';
import { exactCount } from '#statistics/sampling/exact-count';
import { exactFraction } from '#statistics/sampling/exact-fraction';
import { findPlan } from '#statistics/sampling/find-plan';
import { singlePlan } from '#statistics/sampling/single-plan';
import { zeroAcceptanceOfLot, zeroAcceptanceOfShare } from '#statistics/sampling/zero-acceptance';
import { computes, type Method } from '../method.js';

export const samplingMethods: readonly Method[] = [
  computes(zeroAcceptance, (body) => ('lot' in body ? zeroAcceptanceOfLot(body.lot, body.defective, body.risk) : zeroAcceptanceOfShare(body.share, body.risk))),
  computes(singlePlanCurve, ({ shares, ...plan }) => {
    const { points, outgoingLimit, levels } = singlePlan(plan, shares);
    return { points: [...points], outgoingLimit, levels: [...levels] };
  }),
  computes(doublePlanCurve, ({ shares, ...plan }) => {
    const { points, outgoingLimit } = doublePlan(plan, shares);
    return { points: [...points], outgoingLimit };
  }),
  computes(planForTwoPoints, (points) => findPlan(points)),
  computes(exactShare, ({ found, n, lot, confidence }) => ({ ...exactFraction(found, n, confidence), inLot: lot === null ? null : exactCount(found, n, lot, confidence) })),
];
