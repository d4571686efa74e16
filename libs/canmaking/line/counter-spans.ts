import { requireNotNegative } from '../require-number.js';
import type { EpochMs } from '../units.js';
import { type CounterStep, counterSteps } from './counter-steps.js';

/** What both counters of a machine showed; rejected is null where the machine does not count its rejects. */
export type MachineReading = { at: EpochMs; good: number; rejected: number | null };

/** Where a machine's fastest is not stated: faster than any three-piece line makes cans. Common practice, no source. */
export const FASTEST_PER_MINUTE = 2_000;
/** Longer spans do not say when in them the cans were made. */
export const LONGEST_SPAN_MINUTES = 1_440;

/** How one counter went between two readings next to each other. `not-told`: one of the two readings lacks this counter. */
export type DecidedStep = Omit<CounterStep, 'because'> & { counter: 'good' | 'rejected'; because: CounterStep['because'] | 'not-told' };
export type CountedSpan = { at: EpochMs; minutes: number; good: number; rejected: number };
export type CounterSpans = { steps: DecidedStep[]; spans: CountedSpan[]; tooLong: { from: EpochMs; until: EpochMs }[] };

/**
 * Spans of production out of the readings of a machine's two running counters. A span is told only where both counters
 * tell their cans: a span without its rejects would let a later step seem to lose cans. Arithmetic.
 * @param readings in order of time, each moment once
 * @param counter modulus: where both counters begin again at 0, null where it is not known; mostPerMinute: cans
 * @throws RangeError naming the bad input and the index of the reading.
 */
export function counterSpans(readings: readonly MachineReading[], counter: { modulus: number | null; mostPerMinute: number }): CounterSpans {
  const steps: DecidedStep[] = [];
  const spans: CountedSpan[] = [];
  const tooLong: CounterSpans['tooLong'] = [];
  const good = counterSteps(readings.map(({ at, good: value }) => ({ at, value })), counter);
  good.forEach((step, index) => {
    const rejected = rejectedStep(readings, index, counter);
    steps.push({ ...step, counter: 'good' }, ...(rejected === null ? [] : [rejected]));
    const [from, until] = [step.from, step.until];
    const rejects = rejected === null ? 0 : rejected.cans;
    if (step.cans === null || rejects === null) return;
    if (until - from > LONGEST_SPAN_MINUTES * 60_000) tooLong.push({ from, until });
    else spans.push({ at: from, minutes: (until - from) / 60_000, good: step.cans, rejected: rejects });
  });
  return { steps, spans, tooLong };
}

/** Null where neither reading has the counter. */
function rejectedStep(readings: readonly MachineReading[], index: number, counter: { modulus: number | null; mostPerMinute: number }): DecidedStep | null {
  const [before, after] = [readings[index], readings[index + 1]];
  if (before === undefined || after === undefined || (before.rejected === null && after.rejected === null)) return null;
  if (before.rejected === null || after.rejected === null) {
    requireNotNegative(`readings[${index}].rejected`, before.rejected ?? after.rejected ?? 0);
    return { counter: 'rejected', from: before.at, until: after.at, cans: null, least: 0, because: 'not-told' };
  }
  const [step] = counterSteps([{ at: before.at, value: before.rejected }, { at: after.at, value: after.rejected }], counter);
  return step === undefined ? null : { ...step, counter: 'rejected' };
}

/**
 * The number of digits that would make a fall of the counter a roll-over, as its modulus: the next power of ten above the
 * earlier value, where the cans then fit the time. Null where it does not; a suggestion to ask about, never taken by itself.
 */
export function wouldRollOverAt(earlier: number, later: number, most: number): number | null {
  if (!(later < earlier) || earlier < 1) return null;
  const modulus = 10 ** Math.max(3, Math.floor(Math.log10(earlier)) + 1);
  return later + modulus - earlier <= most ? modulus : null;
}
