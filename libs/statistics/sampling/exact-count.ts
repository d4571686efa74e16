import { hypergeometricCdf } from '../distributions/hypergeometric.js';
import { requireChance, requireCount, requireLot } from './origin.js';
import { smallestWhole } from './smallest-whole.js';

/** Numbers of defective units in the whole lot, those found included. */
export type ExactCount = {
  /** Two-sided interval: half of the risk at each end. */
  readonly low: number;
  readonly high: number;
  /** One-sided bound: the whole risk above. This is the one that says "not more than". */
  readonly upperBound: number;
};

/**
 * Defectives in a finite lot of which n units were looked at without replacement; the bounds hold at least the confidence
 * whatever the true number is. A number D is excluded where finding so few (or so many) has a probability of the risk or
 * less: upper bound = largest D with P(X <= found | lot, D, n) > alpha.
 * Source: Buonaccorsi 1987, "A note on confidence intervals for proportions in finite populations", The American
 * Statistician 41(3). Narrower than the share of a process (exactFraction) where the sample is a good part of the lot.
 * @throws RangeError when the counts are not whole or do not fit, or confidence is not strictly between 0 and 1
 */
export function exactCount(found: number, n: number, lot: number, confidence = 0.95): ExactCount {
  const caller = 'exactCount';
  requireLot(lot, caller);
  requireCount(n, 1, lot, 'a sample', caller);
  requireCount(found, 0, n, 'a number found', caller);
  requireChance(confidence, 'a confidence', caller);
  const alpha = 1 - confidence;
  const most = lot - (n - found);
  // Rejected from some D on: as D grows, so few become less likely.
  const above = (risk: number): number => (smallestWhole((d) => hypergeometricCdf(found, lot, d, n) <= risk, found, most) ?? most + 1) - 1;
  // As D grows, so many become more likely: the first that is not rejected. All other units are the mirror image.
  const below = (risk: number): number => smallestWhole((d) => manyOrMore(found, lot, d, n) > risk, found, most) ?? most;
  return { low: below(alpha / 2), high: above(alpha / 2), upperBound: above(alpha) };
}

/** P(X >= found), through the good units, of which there are then n - found or fewer: exact in its small tail. */
function manyOrMore(found: number, lot: number, defective: number, n: number): number {
  return hypergeometricCdf(n - found, lot, lot - defective, n);
}
