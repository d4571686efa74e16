import { evaluateRules } from './evaluate.js';
import type { Firing, RuleName } from './verdict.js';

export type JudgedValues = {
  /** Distance of each value from its centre line in its sigma; null where the value is missing. */
  readonly z: readonly (number | null)[];
  readonly firings: readonly Firing[];
};

/**
 * Judges plotted values of any chart by run rules: z = (value - centre) / sigma, then evaluateRules.
 * @param values plotted statistic in time order, any unit; null is a gap and empties all windows
 * @param centre centre line, one for all or one a value, in the unit of the values
 * @param sigma sigma of the plotted statistic (one third of limit less centre), one for all or one a value
 * @param changes 0-based positions before which a change was declared
 * @throws RangeError when a number is not finite, a sigma is not positive, lists differ in length, or a value lies so far
 * out that its z is beyond the range of numbers (1-based position is named)
 */
export function judgeValues(
  values: readonly (number | null)[], centre: number | readonly number[], sigma: number | readonly number[], rules: readonly RuleName[], changes: readonly number[] = [],
): JudgedValues {
  for (const [name, given] of [['centre lines', centre], ['sigmas', sigma]] as const) {
    if (typeof given !== 'number' && given?.length !== values.length) {
      throw new RangeError(`judgeValues: needs as many ${name} as values, ${given?.length ?? 0} for ${values.length} given`);
    }
  }
  const z = values.map((value, index) => {
    if (value === null) return null;
    const middle = typeof centre === 'number' ? centre : (centre[index] as number);
    const width = typeof sigma === 'number' ? sigma : (sigma[index] as number);
    if (!Number.isFinite(value) || !Number.isFinite(middle) || !(width > 0 && Number.isFinite(width))) {
      throw new RangeError(`judgeValues: needs a finite value, a finite centre and a positive sigma, ${value}, ${middle} and ${width} given at point ${index + 1}`);
    }
    const distance = (value - middle) / width;
    if (!Number.isFinite(distance)) throw new RangeError(`judgeValues: needs values within reach of their limits, ${value} with centre ${middle} and sigma ${width} given at point ${index + 1}`);
    return distance;
  });
  return { z, firings: evaluateRules(z, rules, changes) };
}
