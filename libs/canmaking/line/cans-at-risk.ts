import { requireFinite, requirePositive } from '../require-number.js';
import type { EpochMs } from '../units.js';

const minute = 60_000;

/**
 * Cans made between the last check known good and the moment production was known good again, stopped, or looked at:
 * rate × time, divided by the number of equal shares when one head, spindle or lane is at fault. Rounded up.
 * Arithmetic; it assumes the nominal rate throughout, so stops make it an upper figure. Prefer `cansFromCounts`.
 * @param input cansPerMinute of the whole step; shareOf is how many equal units share them (1 = all cans)
 * @throws RangeError naming the bad input; `until` before `lastGoodAt` is refused.
 */
export function cansAtRisk(input: { cansPerMinute: number; lastGoodAt: EpochMs; until: EpochMs; shareOf?: number }): number {
  const rate = requirePositive('cansPerMinute', input.cansPerMinute);
  const from = requireFinite('lastGoodAt', input.lastGoodAt);
  const until = requireFinite('until', input.until);
  const shareOf = requirePositive('shareOf', input.shareOf ?? 1);
  if (until < from) throw new RangeError(`until must not be before lastGoodAt ${from}, got ${until}`);
  // The product is formed first: dividing the rate by heads first would leave 3600.0000000000005 to be rounded up.
  return Math.ceil((rate * (until - from)) / (minute * shareOf));
}

export type CountBucket = { at: EpochMs; minutes: number; good: number };

/**
 * Cans counted by the machine in a window. A bucket that is touched counts whole: rounded outward, never inward.
 * @param buckets production counts, any order; `at` is the start of the bucket
 * @returns the cans, and the minutes of the window that no bucket covers (a stop, or a counter that was away: the
 *          caller has to say which, it is not zero production by itself)
 */
export function cansFromCounts(
  buckets: readonly CountBucket[], from: EpochMs, until: EpochMs,
): { cans: number; uncoveredMinutes: number } {
  requireFinite('from', from);
  requireFinite('until', until);
  if (until < from) throw new RangeError(`until must not be before from ${from}, got ${until}`);
  let cans = 0;
  let covered = 0;
  for (const bucket of buckets) {
    const end = bucket.at + requirePositive('minutes', bucket.minutes) * minute;
    const inside = Math.min(end, until) - Math.max(bucket.at, from);
    if (inside <= 0) continue;
    cans += requireFinite('good', bucket.good);
    covered += inside;
  }
  return { cans, uncoveredMinutes: Math.max(0, (until - from - covered) / minute) };
}
