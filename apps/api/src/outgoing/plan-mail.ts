import { wallClock } from '#canmaking/can-code/plant-clock';

export type Span = { from: number; until: number };
export type MailRules = { quiet: Span | null; digestMinutes: number | null };
export type Waiting = { id: number; topic: string; at: Date };

export const TOPIC_PAUSE_MS = 3_600_000;

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

/** Whether a person is told at this minute of this day. A shift over midnight belongs to the day on which it begins. */
export function isOnShift({ shift, days }: { shift: Span | null; days: readonly number[] }, weekday: number, minute: number): boolean {
  if (shift !== null && !inSpan(minute, shift)) return false;
  const beganYesterday = shift !== null && shift.from > shift.until && minute < shift.until;
  return days.includes(beganYesterday ? (weekday + 5) % 7 + 1 : weekday);
}

/** The beginning belongs to the span, the end does not; an end before the beginning is the next day. */
export const inSpan = (minute: number, { from, until }: Span): boolean => (from <= until ? minute >= from && minute < until : minute >= from || minute < until);

/**
 * Which of the waiting notices go now, in one e-mail. None in quiet hours, none while the last e-mail is younger than the
 * person's digest, and none of a topic that an e-mail of the last hour spoke of: those wait, and nothing is lost.
 */
export function planMail(waiting: readonly Waiting[], rules: MailRules, last: { mailAt: Date | null; topics: ReadonlyMap<string, Date> }, now: Date, minute: number): number[] {
  if (rules.quiet && inSpan(minute, rules.quiet)) return [];
  if (rules.digestMinutes !== null && last.mailAt && now.getTime() - last.mailAt.getTime() < rules.digestMinutes * 60_000) return [];
  return waiting.filter(({ topic }) => now.getTime() - (last.topics.get(topic)?.getTime() ?? Number.NEGATIVE_INFINITY) >= TOPIC_PAUSE_MS).map(({ id }) => id);
}
