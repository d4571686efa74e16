const hour = 3_600_000;

/** The scenario is written on days 0 to 89; a shorter one keeps the last days. */
export const scenarioDays = 90;
/** Two shifts of eight hours, then the line rests for eight. */
export const shiftHours = 8;
export const runningHours = 16;
/** Days before any fault: the time from which limits are frozen. */
export const baselineDays = 20;

export type CalendarOptions = {
  /** The last moment of the scenario, usually the moment at which it is loaded. */
  endsAt: number;
  /** How many of the scenario's days, counted back from the end. */
  days: number;
  /** Hours since the start of the day's first shift at `endsAt`; the default ends just before the wash-down, the lines still running. */
  hoursIntoDay?: number;
};

export type Calendar = {
  endsAt: number;
  days: number;
  /** First scenario day that exists: 0 for ninety days. */
  firstDay: number;
  startsAt: number;
  baselineEndsAt: number;
  /** Epoch milliseconds of an hour after the first shift's start of a scenario day; days below zero are before the records. */
  at(day: number, hour?: number): number;
  /** Every seventh day the plant rests. */
  isRunningDay(day: number): boolean;
};

/**
 * Turns scenario days into time. Every day is 24 hours after the one before: where the plant's clock is changed inside
 * the scenario, shifts before the change begin an hour earlier or later by the wall clock.
 */
export function plantCalendar({ endsAt, days, hoursIntoDay = 15.5 }: CalendarOptions): Calendar {
  if (!Number.isSafeInteger(endsAt)) throw new RangeError(`endsAt must be whole milliseconds, got ${endsAt}`);
  if (!Number.isInteger(days) || days <= baselineDays || days > scenarioDays) {
    throw new RangeError(`days must be a whole number from ${baselineDays + 1} to ${scenarioDays}, got ${days}`);
  }
  if (!(hoursIntoDay > 0 && hoursIntoDay <= 24)) throw new RangeError(`hoursIntoDay must be above 0 and at most 24, got ${hoursIntoDay}`);
  const at = (day: number, hours = 0) => Math.round(endsAt + ((day - (scenarioDays - 1)) * 24 - hoursIntoDay + hours) * hour);
  const firstDay = scenarioDays - days;
  return {
    endsAt, days, firstDay, startsAt: at(firstDay), baselineEndsAt: at(firstDay + baselineDays), at,
    isRunningDay: (day) => ((day % 7) + 7) % 7 !== 6,
  };
}
