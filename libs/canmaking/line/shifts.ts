import { wallClock } from '../can-code/plant-clock.js';
import type { EpochMs } from '../units.js';

/** Hours of the plant's clocks in minutes after midnight; an end that is not after the beginning lies on the next day. Days are those of the beginning, 1 Monday to 7 Sunday. */
export type Shift = { readonly name: string; readonly beginMinute: number; readonly endMinute: number; readonly days: readonly number[] };

const DAY = 1440;
const WEEK = 7 * DAY;

/** Which shift was on at a moment; null outside all of them. @throws RangeError for a zone that is not in the IANA list */
export function shiftAt(shifts: readonly Shift[], at: EpochMs, timeZone: string): string | null {
  const { year, month, day, hour, minute } = wallClock(at, timeZone);
  const weekday = (new Date(Date.UTC(year, month - 1, day)).getUTCDay() + 6) % 7;
  const inWeek = weekday * DAY + hour * 60 + minute;
  return shifts.find((shift) => spansOf(shift).some(({ from, length }) => (inWeek - from + WEEK) % WEEK < length))?.name ?? null;
}

/** The first two shifts, by their places in the list, that are on at the same time; null where no two are. */
export function overlappingShifts(shifts: readonly Shift[]): { first: number; second: number } | null {
  for (const [second, shift] of shifts.entries()) {
    const first = shifts.slice(0, second).findIndex((other) => spansOf(other).some((one) => spansOf(shift).some((two) => (two.from - one.from + WEEK) % WEEK < one.length || (one.from - two.from + WEEK) % WEEK < two.length)));
    if (first >= 0) return { first, second };
  }
  return null;
}

function spansOf({ beginMinute, endMinute, days }: Shift): { from: number; length: number }[] {
  return days.map((day) => ({ from: (day - 1) * DAY + beginMinute, length: endMinute > beginMinute ? endMinute - beginMinute : endMinute + DAY - beginMinute }));
}
