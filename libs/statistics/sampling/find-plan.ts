import { atMost, type CountModel, MOST_DEFECTIVE, MOST_UNITS, type Origin, reaches, requireChance, requireLot } from './origin.js';
import { smallestWhole } from './smallest-whole.js';

/** Two points of the operating characteristic: what must hardly be rejected, and what must hardly be accepted. */
export type TwoPoints = {
  /** Share defective that is good (AQL) and the risk of rejecting it, such as 0.01 and 0.05. */
  readonly good: number; readonly producerRisk: number;
  /** Share defective that is bad (LTPD) and the risk of accepting it, such as 0.05 and 0.10. */
  readonly bad: number; readonly consumerRisk: number;
  readonly lot: number | null; readonly model: CountModel;
};

export type FoundPlan = {
  readonly n: number;
  readonly c: number;
  /** Largest n that holds both risks with this c; from n to it the consumer is the better protected. */
  readonly largestN: number;
  /** Probabilities of acceptance at the good and the bad share. */
  readonly acceptGood: number;
  readonly acceptBad: number;
};

/**
 * Single sampling plan with the smallest acceptance number, and for it the smallest sample, that holds both risks.
 * For c = 0, 1, 2, ... the smallest n that holds the consumer's risk and the largest that holds the producer's; the first
 * c where these meet is taken. Source: Guenther 1969, "Use of the binomial, hypergeometric and Poisson tables to obtain
 * sampling plans", Journal of Quality Technology 1(2). In one finite lot the good number of defectives is rounded down
 * and the bad one up, to the nearest lots that are at least that good and that bad.
 * The plan informs; which quality and which risks are right, the specification and its owner decide.
 * @throws RangeError when shares or risks are not strictly between 0 and 1, good is not below bad, or no plan up to
 * c = 10,000 and n = 1e9 holds both risks
 */
export function findPlan(points: TwoPoints): FoundPlan {
  const caller = 'findPlan';
  const { good, bad, producerRisk, consumerRisk, lot, model } = points;
  requireChance(good, 'a good share defective', caller);
  requireChance(bad, 'a bad share defective', caller);
  requireChance(producerRisk, "a producer's risk", caller);
  requireChance(consumerRisk, "a consumer's risk", caller);
  if (!(good < bad)) throw new RangeError(`${caller}: needs a good share below the bad one, ${good} and ${bad} given`);
  if (!(producerRisk + consumerRisk < 1)) throw new RangeError(`${caller}: needs risks that sum to less than 1, ${producerRisk} and ${consumerRisk} given`);
  const [goodOrigin, badOrigin] = originsOf(points, caller);
  const most = model === 'hypergeometric' ? requireLot(lot, caller) : Math.min(MOST_UNITS, lot === null ? MOST_UNITS : requireLot(lot, caller));
  let n = 1;
  for (let c = 0; c <= Math.min(MOST_DEFECTIVE, most - 1); c += 1) {
    const protects = smallestWhole((units) => reaches(atMost(c, units, badOrigin), consumerRisk), Math.max(n, c + 1), most);
    if (protects === null) break;
    n = protects;
    const acceptGood = atMost(c, n, goodOrigin);
    if (!isAccepted(acceptGood, producerRisk)) continue;
    const tooMany = smallestWhole((units) => !isAccepted(atMost(c, units, goodOrigin), producerRisk), n, most) ?? most + 1;
    return { n, c, largestN: tooMany - 1, acceptGood, acceptBad: atMost(c, n, badOrigin) };
  }
  throw new RangeError(`${caller}: needs shares further apart, larger risks or larger lots, no plan up to ${MOST_DEFECTIVE} defectives and ${most} units holds both risks`);
}

const isAccepted = (accept: number, producerRisk: number): boolean => reaches(1 - accept, producerRisk);

function originsOf({ good, bad, lot, model }: TwoPoints, caller: string): readonly [Origin, Origin] {
  if (model !== 'hypergeometric') return [{ model, share: good }, { model, share: bad }];
  const units = requireLot(lot, caller);
  // 0.07 of 100 units is 7, although the product is a little more: the last digits do not make another unit.
  const goodUnits = Math.floor(good * units + 1e-9 * units * good);
  const badUnits = Math.min(units, Math.ceil(bad * units - 1e-9 * units * bad));
  if (goodUnits >= badUnits) throw new RangeError(`${caller}: needs shares that differ by a whole unit of the lot, ${goodUnits} and ${badUnits} of ${units} given`);
  return [{ model, lot: units, defective: goodUnits }, { model, lot: units, defective: badUnits }];
}
