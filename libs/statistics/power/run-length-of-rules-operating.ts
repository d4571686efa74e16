import type { RuleName } from '../rules/verdict.js';
import { requireShift } from './follow-walks.js';
import { requireRules, walksOf } from './run-length-of-rules.js';

/** Most points that are looked ahead. */
const MOST_POINTS = 100_000;

/**
 * Operating characteristic of a set of run rules: the probability that at least one of the first `points` points after
 * a shift signals, the memory empty at first; for each shift. Independent normal points, known limits.
 * Source: the chain of Champ & Woodall 1987, Technometrics 29(4); see runLengthOfRules, whose accuracy it has.
 * @param shifts in sigma of the plotted statistic
 * @throws RangeError when no rule or an unknown one is named, a shift is not finite (1-based position is named), or
 * points is not a whole number from 1 to 100,000
 */
export function operatingCharacteristicOfRules(rules: readonly RuleName[], shifts: readonly number[], points: number): { shift: number; signalled: number }[] {
  requireRules(rules, 'operatingCharacteristicOfRules');
  if (!Number.isInteger(points) || points < 1 || points > MOST_POINTS) {
    throw new RangeError(`operatingCharacteristicOfRules: needs a whole number of points from 1 to ${MOST_POINTS}, ${points} given`);
  }
  for (const [i, shift] of shifts.entries()) requireShift(shift, 'operatingCharacteristicOfRules', i + 1);
  const walkAt = walksOf(rules);
  return shifts.map((shift) => {
    const walk = walkAt(shift);
    let from = Float64Array.from(walk.start);
    let to = new Float64Array(from.length);
    let signalled = 0;
    for (let point = 0; point < points; point += 1) {
      signalled += walk.step(from, to);
      [from, to] = [to, from];
    }
    return { shift, signalled: Math.min(1, signalled) };
  });
}
