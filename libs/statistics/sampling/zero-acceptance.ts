import { atMost, MOST_UNITS, type Origin, reaches, requireChance, requireCount, requireLot } from './origin.js';
import { smallestWhole } from './smallest-whole.js';

export type ZeroAcceptance = {
  /** Units to look at; the lot is accepted only when none of them is defective. */
  readonly n: number;
  /** Probability that the lot or process of that quality is accepted nevertheless, not above the risk. */
  readonly accept: number;
};

/**
 * Smallest sample that accepts on zero and lets a lot with `defective` units pass with no more than the risk:
 * P(0 | lot, defective, n) = C(lot - defective, n) / C(lot, n), hypergeometric.
 * Source: Schilling & Neubauer, Acceptance Sampling in Quality Control, plans with c = 0; the exact distribution of a
 * sample without replacement. The sample informs: what is done with the lot, the specification decides.
 * @param risk probability of acceptance that is allowed at that number of defectives, such as 0.05
 * @throws RangeError when the lot is not whole, defective is not 1 to lot, or the risk is not strictly between 0 and 1
 */
export function zeroAcceptanceOfLot(lot: number, defective: number, risk: number): ZeroAcceptance {
  const caller = 'zeroAcceptanceOfLot';
  requireLot(lot, caller);
  requireCount(defective, 1, lot, 'a number of defectives', caller);
  return smallest({ model: 'hypergeometric', lot, defective }, lot, risk, caller);
}

/**
 * The same for a process, or a lot much larger than the sample: (1 - share)^n, binomial.
 * @param share of defectives that is to be caught, 0 to 1
 * @throws RangeError when share or risk is not strictly between 0 and 1, or more than 1e9 units would be needed
 */
export function zeroAcceptanceOfShare(share: number, risk: number): ZeroAcceptance {
  const caller = 'zeroAcceptanceOfShare';
  requireChance(share, 'a share of defectives', caller);
  return smallest({ model: 'binomial', share }, MOST_UNITS, risk, caller);
}

function smallest(origin: Origin, most: number, risk: number, caller: string): ZeroAcceptance {
  requireChance(risk, 'a risk', caller);
  const n = smallestWhole((units) => reaches(atMost(0, units, origin), risk), 1, most);
  if (n === null) throw new RangeError(`${caller}: needs a larger share or risk, more than ${most} units would have to be looked at`);
  return { n, accept: atMost(0, n, origin) };
}
