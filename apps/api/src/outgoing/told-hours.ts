import { wallClock } from '#canmaking/can-code/plant-clock';
import type { Shift } from '#canmaking/line/shifts';
import type { Withheld } from '#contract/told-hours';

/** Minutes from midnight on the plant's clock; an end before the beginning is the next day. */
export type Span = { from: number; until: number };
/** When somebody is told: hours given here, or shifts of the plant by name (neither: at any hour), the days on which they begin, and when it is quiet. */
export type ToldHours = { shift: Span | null; shifts: readonly string[]; days: readonly number[]; quiet: Span | null };

/** Minutes since midnight on the clocks of a time zone. */
export function minuteOfDay(moment: Date, timeZone: string): number {
  const { hour, minute } = wallClock(moment.getTime(), timeZone);
  return hour * 60 + minute;
}

/** Day of the week on the clocks of a time zone, ISO 8601: 1 is Monday. */
export function weekdayOf(moment: Date, timeZone: string): number {
  const { year, month, day } = wallClock(moment.getTime(), timeZone);
  return new Date(Date.UTC(year, month - 1, day)).getUTCDay() || 7;
}

/** The beginning belongs to the span, the end does not; an end before the beginning is the next day. */
export const inSpan = (minute: number, { from, until }: Span): boolean => (from <= until ? minute >= from && minute < until : minute >= from || minute < until);

export const isQuiet = (quiet: Span | null, moment: Date, timeZone: string): boolean => quiet !== null && inSpan(minuteOfDay(moment, timeZone), quiet);

/**
 * Whether somebody is told at this moment: null, or why not (quiet: later; the others: not at all). The plant's clocks decide, so a span is an hour longer
 * or shorter where they are changed in it. Hours over midnight belong to the day on which they begin. Where a shift that is named is not set up any
 * more, hours do not narrow until somebody chooses anew: too much is noticed, silence is not.
 */
export function withheldAt(rules: ToldHours, plantShifts: readonly Shift[], moment: Date, timeZone: string): Withheld | null {
  const [weekday, minute] = [weekdayOf(moment, timeZone), minuteOfDay(moment, timeZone)];
  const dayOn = ({ from, until }: Span) => (from > until && minute < until ? ((weekday + 5) % 7) + 1 : weekday);
  const hours = hoursOf(rules, plantShifts)?.filter((each) => inSpan(minute, each));
  if (hours?.length === 0) return 'off-hours';
  const isDay = hours ? hours.some((each) => rules.days.includes(dayOn(each)) && each.days.includes(dayOn(each))) : rules.days.includes(weekday);
  if (!isDay) return 'off-day';
  return isQuiet(rules.quiet, moment, timeZone) ? 'quiet' : null;
}

/** Null: at any hour. */
function hoursOf({ shift, shifts, days }: ToldHours, plantShifts: readonly Shift[]): (Span & { days: readonly number[] })[] | null {
  if (shift !== null) return [{ ...shift, days }];
  const named = shifts.map((name) => plantShifts.find((each) => each.name === name));
  const known = named.filter((each) => each !== undefined);
  return named.length === 0 || known.length < named.length ? null : known.map(({ beginMinute, endMinute, days: on }) => ({ from: beginMinute, until: endMinute, days: on }));
}
