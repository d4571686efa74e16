import { type Panel, panelOf } from './panel.js';

export type GapChart = {
  /** Chance that a can is a leaker, estimated without bias. */
  readonly proportion: number;
  /** The same by maximum likelihood, 1/(1 + mean gap): a little too large on the average. */
  readonly proportionMle: number;
  readonly meanGap: number;
  /** Chance of a gap below the lower and above the upper limit while nothing has changed: at most what was asked for, less because gaps are whole. */
  readonly falseAlarm: { readonly below: number; readonly above: number };
  /** Whether a single short gap can signal at all; not where leakers are so common that even a gap of 0 is no surprise. */
  readonly shortGapSignals: boolean;
  readonly panel: Panel;
};

/**
 * Chart of the number of good cans between one leaker and the next (0 = the next can leaks as well), with exact limits
 * of the geometric distribution P(gap = y) = p (1-p)^y. A gap BELOW the lower limit is too short: leakers have become
 * more frequent. A gap above the upper limit is too long: they have become rarer.
 *   lower = the largest L with P(gap < L) <= alpha, none (null) where L is 0; upper = the smallest U with P(gap > U) <= alpha
 * The centre line is the median gap, the smallest M with P(gap <= M) >= 1/2; a three-sigma limit would be of no use on
 * the lower side, where it is always below 0.
 * p is estimated by (N-1)/(N+S-1) for N gaps of sum S, the only unbiased estimate. Sources: Kaminsky, Benneyan, Davis &
 * Burke 1992, "Statistical control charts based on a geometric distribution", Journal of Quality Technology 24; Benneyan
 * 2001, "Number-between g-type statistical quality control charts", Health Care Management Science 4 (probability
 * limits); Haldane 1945, "On a method of estimating frequencies", Biometrika 33 (the estimate).
 * @param gaps whole numbers, 0 or more; null = unknown, no point
 * @param alpha false alarm a side, below 1/2
 * @param proportion where p is known it is not estimated
 * @throws RangeError when a gap is not a whole number of 0 or more, fewer than two are given and p is not known, all are 0, or alpha or p is out of range
 */
export function gapChart(gaps: readonly (number | null)[], alpha = 0.00135, proportion?: number): GapChart {
  if (!(alpha > 0 && alpha < 0.5)) throw new RangeError(`gapChart: needs a false-alarm probability above 0 and below 0.5, ${alpha} given`);
  let sum = 0;
  let count = 0;
  gaps.forEach((gap, index) => {
    if (gap === null) return;
    if (!Number.isSafeInteger(gap) || gap < 0) throw new RangeError(`gapChart: needs whole gaps of 0 or more, gap ${index + 1} is ${gap}`);
    sum += gap;
    count += 1;
  });
  if (count === 0) throw new RangeError('gapChart: needs at least 1 gap, 0 given');
  if (proportion === undefined && count < 2) throw new RangeError(`gapChart: needs at least 2 gaps to estimate the proportion, ${count} given`);
  const p = proportion ?? (count - 1) / (count + sum - 1);
  if (!(p > 0 && p < 1)) throw new RangeError(`gapChart: needs a proportion strictly between 0 and 1, ${p} given${proportion === undefined ? ' by gaps that are all 0' : ''}`);

  const perGoodCan = Math.log1p(-p);
  if (!(Math.log(alpha) / perGoodCan < Number.MAX_SAFE_INTEGER - 2)) throw new RangeError(`gapChart: needs a proportion whose limits can be counted, ${p} given leads beyond the whole numbers`);
  const shorterThan = (y: number): number => -Math.expm1(y * perGoodCan);
  const longerThan = (y: number): number => Math.exp((y + 1) * perGoodCan);
  // The closed forms may be off by one where the quotient is whole; the definitions decide.
  let lower = Math.floor(Math.log1p(-alpha) / perGoodCan);
  while (shorterThan(lower + 1) <= alpha) lower += 1;
  while (lower > 0 && shorterThan(lower) > alpha) lower -= 1;
  const smallest = (tail: number): number => {
    let y = Math.max(0, Math.ceil(Math.log(tail) / perGoodCan) - 1);
    while (longerThan(y) > tail) y += 1;
    while (y > 0 && longerThan(y - 1) <= tail) y -= 1;
    return y;
  };
  const upper = smallest(alpha);
  const lines = { centre: smallest(0.5), lower: lower === 0 ? null : lower, upper, sigma: null };
  return {
    proportion: p, proportionMle: count / (count + sum), meanGap: sum / count,
    falseAlarm: { below: shorterThan(lower), above: longerThan(upper) },
    shortGapSignals: lower > 0,
    panel: panelOf('gapChart', 'gap', gaps, () => lines),
  };
}
