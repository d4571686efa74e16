import { betaQuantile } from '../distributions/beta.js';
import { gammaQuantile } from '../distributions/gamma.js';
import { highestOutgoing, type OutgoingLimit } from './highest-outgoing.js';
import { atMost, type CountModel, MOST_DEFECTIVE, MOST_UNITS, type Origin, originOf, requireChance, requireCount, requireLot } from './origin.js';
import { smallestWhole } from './smallest-whole.js';

/** Look at n units and accept the lot with c defectives or fewer. The lot is null for a process without lots. */
export type SinglePlan = { readonly n: number; readonly c: number; readonly lot: number | null; readonly model: CountModel };

export type PlanPoint = {
  /** Share defective that comes in: the one asked for, or the nearest with a whole number of defectives in the lot. */
  readonly share: number;
  /** Probability of acceptance, the operating characteristic. */
  readonly accept: number;
  /** Average share defective that leaves when rejected lots are screened and every defective found is replaced. */
  readonly outgoing: number;
  /** Average number of units looked at a lot, with those of screened lots; null without lots. */
  readonly inspected: number | null;
};

export type SinglePlanCurve = {
  readonly points: readonly PlanPoint[];
  readonly outgoingLimit: OutgoingLimit;
  /** Incoming shares accepted with these probabilities: about the producer's, the indifferent and the consumer's point. */
  readonly levels: readonly { readonly accept: number; readonly share: number }[];
};

/**
 * Operating characteristic, average outgoing quality with its limit (AOQ, AOQL) and average total inspection (ATI) of a
 * single sampling plan for attributes, at each incoming share.
 * AOQ = p Pa (1 - n/N), ATI = n + (1 - Pa)(N - n). Source: Dodge & Romig 1929, "A method of sampling inspection", Bell
 * System Technical Journal 8; NIST/SEMATECH e-Handbook 6.2.3.2. In one finite lot the defectives left behind an accepted
 * sample are counted exactly: D/N (1 - n/N) P(X <= c | N - 1, D - 1, n).
 * The binomial is of lots from a steady process, the hypergeometric of one lot, the Poisson of defects a unit.
 * @param shares defective, 0 to 1, in any order
 * @throws RangeError when n, c or the lot are not whole or do not fit, a share is outside 0 to 1, or a hypergeometric plan has no lot
 */
export function singlePlan(plan: SinglePlan, shares: readonly number[]): SinglePlanCurve {
  requireSinglePlan(plan, 'singlePlan');
  const { lot, model } = plan;
  const pointOf = (share: number): PlanPoint => {
    const origin = originOf(model, share, lot, 'singlePlan');
    const accept = atMost(plan.c, plan.n, origin);
    return {
      share: origin.model === 'hypergeometric' ? origin.defective / origin.lot : share, accept, outgoing: outgoing(plan, origin),
      inspected: lot === null ? null : plan.n + (1 - accept) * (lot - plan.n),
    };
  };
  return {
    points: shares.map(pointOf),
    outgoingLimit: highestOutgoing((share) => outgoing(plan, originOf(model, share, lot, 'singlePlan')), model === 'hypergeometric' ? lot : null),
    levels: [0.95, 0.5, 0.1].map((accept) => ({ accept, share: shareAccepted(plan, accept) })),
  };
}

/**
 * Incoming share that the plan accepts with a given probability: 1 - Pa quantile of the beta with c + 1 and n - c
 * (binomial), of the gamma with c + 1 over n (Poisson; above 1 it is more than one defect a unit). In one finite lot the
 * largest share with at least that probability.
 * @throws RangeError as singlePlan, or when accept is not strictly between 0 and 1
 */
export function shareAccepted(plan: SinglePlan, accept: number): number {
  requireSinglePlan(plan, 'shareAccepted');
  requireChance(accept, 'a probability of acceptance', 'shareAccepted');
  const { n, c, lot, model } = plan;
  if (model === 'poisson') return gammaQuantile(1 - accept, c + 1, 1) / n;
  if (c === n) return 1;
  if (model === 'binomial') return betaQuantile(1 - accept, c + 1, n - c);
  const units = requireLot(lot, 'shareAccepted');
  const rejected = smallestWhole((defective) => atMost(c, n, { model, lot: units, defective }) < accept, 0, units) ?? units + 1;
  return (rejected - 1) / units;
}

export function requireSinglePlan({ n, c, lot, model }: SinglePlan, caller: string): void {
  const most = lot === null && model !== 'hypergeometric' ? MOST_UNITS : requireLot(lot, caller);
  requireCount(n, 1, most, 'a sample', caller);
  requireCount(c, 0, Math.min(n, MOST_DEFECTIVE), 'an acceptance number', caller);
}

function outgoing({ n, c, lot }: SinglePlan, origin: Origin): number {
  const left = lot === null ? 1 : 1 - n / lot;
  if (origin.model !== 'hypergeometric') return origin.share * left * atMost(c, n, origin);
  if (origin.defective === 0 || left === 0) return 0;
  return (origin.defective / origin.lot) * left * atMost(c, n, { model: 'hypergeometric', lot: origin.lot - 1, defective: origin.defective - 1 });
}
