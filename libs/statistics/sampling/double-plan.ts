import { highestOutgoing, type OutgoingLimit } from './highest-outgoing.js';
import { atMost, type CountModel, exactly, MOST_DEFECTIVE, MOST_UNITS, type Origin, originOf, requireCount, requireLot, without } from './origin.js';
import type { PlanPoint } from './single-plan.js';

/** First n1 units: accept with c1 defectives or fewer, reject with r1 or more; else n2 more: accept with c2 or fewer in both. */
export type DoublePlan = {
  readonly n1: number; readonly c1: number;
  /** Rejection number of the first sample, c1 + 2 to c2 + 1; null is c2 + 1, where no second sample could save the lot. */
  readonly r1: number | null;
  readonly n2: number; readonly c2: number;
  readonly lot: number | null; readonly model: CountModel;
};

export type DoublePlanPoint = PlanPoint & {
  /** Probability that the first sample decides, by acceptance or rejection. */
  readonly decidedFirst: number;
  /** Average sample number: units looked at in samples, every sample finished. */
  readonly sampled: number;
};

export type DoublePlanCurve = { readonly points: readonly DoublePlanPoint[]; readonly outgoingLimit: OutgoingLimit };

/**
 * Operating characteristic, average sample number (ASN), average outgoing quality with its limit and average total
 * inspection of a double sampling plan for attributes.
 * Pa = P(X1 <= c1) + sum over c1 < x < r1 of P(X1 = x) P(X2 <= c2 - x); ASN = n1 + n2 P(c1 < X1 < r1).
 * Source: Dodge & Romig 1929, Bell System Technical Journal 8; NIST/SEMATECH e-Handbook 6.2.4. Rejected lots are
 * screened and every defective found is replaced; in one finite lot the second sample is drawn from what the first left.
 * @param shares defective, 0 to 1, in any order
 * @throws RangeError when a count is not whole or does not fit, a share is outside 0 to 1, or a hypergeometric plan has no lot
 */
export function doublePlan(plan: DoublePlan, shares: readonly number[]): DoublePlanCurve {
  requireDoublePlan(plan, 'doublePlan');
  const { n1, n2, lot, model } = plan;
  const pointOf = (asked: number): DoublePlanPoint => {
    const origin = originOf(model, asked, lot, 'doublePlan');
    const { first, second, undecided } = chances(plan, origin);
    const accept = Math.min(1, first + second);
    return {
      share: origin.model === 'hypergeometric' ? origin.defective / origin.lot : asked, accept, outgoing: outgoing(plan, origin),
      decidedFirst: 1 - undecided, sampled: n1 + n2 * undecided,
      inspected: lot === null ? null : n1 * first + (n1 + n2) * second + lot * (1 - accept),
    };
  };
  return {
    points: shares.map(pointOf),
    outgoingLimit: highestOutgoing((share) => outgoing(plan, originOf(model, share, lot, 'doublePlan')), model === 'hypergeometric' ? lot : null),
  };
}

/** Probability of acceptance in the first sample, in the second, and of needing a second. */
function chances({ n1, c1, r1, n2, c2 }: DoublePlan, origin: Origin): { first: number; second: number; undecided: number } {
  let [second, undecided] = [0, 0];
  for (let x = c1 + 1; x < (r1 ?? c2 + 1); x += 1) {
    const chance = exactly(x, n1, origin);
    undecided += chance;
    // Counts that cannot be: what they would leave is no lot.
    if (chance > 0) second += chance * atMost(c2 - x, n2, without(n1, x, origin));
  }
  return { first: atMost(c1, n1, origin), second, undecided: Math.min(1, undecided) };
}

function outgoing(plan: DoublePlan, origin: Origin): number {
  const { n1, n2, lot } = plan;
  const leftFirst = lot === null ? 1 : 1 - n1 / lot;
  const leftSecond = lot === null ? 1 : Math.max(0, 1 - (n1 + n2) / lot);
  if (origin.model !== 'hypergeometric') {
    const { first, second } = chances(plan, origin);
    return origin.share * (leftFirst * first + leftSecond * second);
  }
  if (origin.defective === 0) return 0;
  // One of the defectives stays behind; the samples are drawn from all other units.
  const others: Origin = { ...origin, lot: origin.lot - 1, defective: origin.defective - 1 };
  const share = origin.defective / origin.lot;
  if (leftFirst === 0) return 0;
  const { first, second } = leftSecond === 0 ? { first: atMost(plan.c1, n1, others), second: 0 } : chances(plan, others);
  return share * (leftFirst * first + leftSecond * second);
}

function requireDoublePlan({ n1, c1, r1, n2, c2, lot, model }: DoublePlan, caller: string): void {
  const most = lot === null && model !== 'hypergeometric' ? MOST_UNITS : requireLot(lot, caller);
  if (most < 2) throw new RangeError(`${caller}: needs a lot of at least two units, ${most} given`);
  requireCount(n1, 1, most - 1, 'a first sample', caller);
  requireCount(n2, 1, most - n1, 'a second sample', caller);
  requireCount(c1, 0, Math.min(n1, MOST_DEFECTIVE), 'an acceptance number of the first sample', caller);
  requireCount(c2, c1 + 1, Math.max(c1 + 1, Math.min(n1 + n2, MOST_DEFECTIVE)), 'an acceptance number of both samples', caller);
  if (r1 !== null) requireCount(r1, c1 + 2, c2 + 1, 'a rejection number of the first sample', caller);
}
