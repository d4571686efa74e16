import { requireFinite, requireNotNegative, requirePositive } from '../require-number.js';
import type { EpochMs } from '../units.js';

/** What a running counter showed at a moment. */
export type CounterReading = { at: EpochMs; value: number };

export type CounterStep = {
  from: EpochMs; until: EpochMs;
  /** Cans between the two readings; null where they cannot be told, which is not zero. */
  cans: number | null;
  /** At least so many: after a set-back the counter shows what came since, not what came before. */
  least: number;
  because: 'counted' | 'rolled-over' | 'set-back' | 'went-backwards' | 'jumped' | 'wrapped-unseen';
};

/**
 * Differences of a raw running counter. A drop is a roll-over where the modulus is known and the cans fit what the machine
 * can make in that time, and a set-back otherwise. A rise beyond that is a jump: somebody set the counter. Arithmetic.
 * @param readings in order of time
 * @param counter modulus: the number of values before it begins again at 0, such as 1,000,000 for six digits, null where
 *        it is not known; mostPerMinute: the fastest the machine can go, cans
 * @returns one step between each two readings
 * @throws RangeError naming the bad input and the index of the reading.
 */
export function counterSteps(readings: readonly CounterReading[], counter: { modulus: number | null; mostPerMinute: number }): CounterStep[] {
  const modulus = counter.modulus === null ? null : requirePositive('modulus', counter.modulus);
  const mostPerMinute = requirePositive('mostPerMinute', counter.mostPerMinute);
  const steps: CounterStep[] = [];
  let before: CounterReading | null = null;
  readings.forEach(({ at, value }, index) => {
    requireFinite(`readings[${index}].at`, at);
    requireNotNegative(`readings[${index}].value`, value);
    if (modulus !== null && value >= modulus) throw new RangeError(`readings[${index}].value must be below modulus ${modulus}, got ${value}`);
    if (before !== null) {
      if (at <= before.at) throw new RangeError(`readings[${index}].at must be after ${before.at}, got ${at}`);
      steps.push({ from: before.at, until: at, ...between(before.value, value, modulus, Math.ceil((mostPerMinute * (at - before.at)) / 60_000) + 1) });
    }
    before = { at, value };
  });
  return steps;
}

function between(earlier: number, later: number, modulus: number | null, most: number): Pick<CounterStep, 'cans' | 'least' | 'because'> {
  const rise = later - earlier;
  const once = modulus === null || rise >= 0 ? rise : rise + modulus;
  if (once >= 0) {
    // A counter that was not read for long can have gone all the way round: then many numbers fit, and none is taken.
    if (modulus !== null && once + modulus <= most) return { cans: null, least: once, because: 'wrapped-unseen' };
    if (once <= most) return { cans: once, least: once, because: rise >= 0 ? 'counted' : 'rolled-over' };
  }
  if (rise >= 0) return { cans: null, least: 0, because: 'jumped' };
  return later <= most ? { cans: null, least: later, because: 'set-back' } : { cans: null, least: 0, because: 'went-backwards' };
}

/** Known steps as spans of counts; the others leave a gap, because a missing span is not a span without cans. */
export function spansOf(steps: readonly CounterStep[]): { at: EpochMs; minutes: number; good: number }[] {
  return steps.flatMap(({ from, until, cans }) => (cans === null ? [] : [{ at: from, minutes: (until - from) / 60_000, good: cans }]));
}
