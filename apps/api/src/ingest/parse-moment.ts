import type { Layout, RowReason } from '#contract/ingest';

export type Moment = { iso: string } | (RowReason & { wrong: string });

const ORDER = { 'year-month-day': [0, 1, 2], 'day-month-year': [2, 1, 0], 'month-day-year': [2, 0, 1] } as const;
const EXPECTED = { 'year-month-day': '2026-03-01 08:30', 'day-month-year': '01.03.2026 08:30', 'month-day-year': '03/01/2026 08:30' } as const;

/**
 * A date and time as the file writes it. A zone in the text (Z, +02:00) counts; else the clock of `layout.timeZone` does.
 * An hour that this clock skips in spring is refused; of the hour that it shows twice in autumn the first is meant.
 */
export function parseMoment(text: string, { dateOrder, timeZone }: Pick<Layout, 'dateOrder' | 'timeZone'>): Moment {
  const form = (): Moment => ({ wrong: `a date and time such as ${EXPECTED[dateOrder]}`, code: 'moment-form', values: { example: EXPECTED[dateOrder] } });
  const parts = /^\s*(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})[T ,]+(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d{1,9})?)?\s*([AaPp][Mm])?\s*(Z|[+-](?:0\d|1[0-4]):?[0-5]\d)?\s*$/.exec(text);
  if (!parts) return form();
  const dates = [Number(parts[1]), Number(parts[3]), Number(parts[4])];
  const [year, month, day] = ORDER[dateOrder].map((place) => dates[place] as number) as [number, number, number];
  const [minute, second, half] = [Number(parts[6]), Number(parts[7] ?? 0), parts[8]?.toLowerCase()];
  const hour = half === undefined ? Number(parts[5]) : (Number(parts[5]) % 12) + (half === 'pm' ? 12 : 0);
  if (half !== undefined && (Number(parts[5]) < 1 || Number(parts[5]) > 12)) return form();
  if (year < 1900 || year > 9999 || hour > 23 || minute > 59 || second > 59) return form();
  const wall = Date.UTC(year, month - 1, day, hour, minute, second);
  const back = new Date(wall);
  if (back.getUTCMonth() !== month - 1 || back.getUTCDate() !== day) return { wrong: `a day of the calendar, in the order ${dateOrder}`, code: 'moment-day', values: { dateOrder } };
  const zone = parts[9];
  if (zone) return { iso: new Date(zone === 'Z' ? wall : wall - offsetOf(zone)).toISOString() };
  const moment = fromWall(wall, timeZone);
  return moment === null ? { wrong: `a time that the clocks of ${timeZone} showed: they skipped this hour`, code: 'moment-skipped', values: { timeZone } } : { iso: new Date(moment).toISOString() };
}

function offsetOf(text: string): number {
  const sign = text.startsWith('-') ? -1 : 1;
  return sign * (Number(text.slice(1, 3)) * 60 + Number(text.slice(-2))) * 60_000;
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** What the clocks of a zone show at a moment, as if it were UTC. */
function wallAt(moment: number, timeZone: string): number {
  let format = formats.get(timeZone);
  if (!format) {
    format = new Intl.DateTimeFormat('en-CA', { timeZone, hourCycle: 'h23', year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit' });
    formats.set(timeZone, format);
  }
  const parts = new Map(format.formatToParts(moment).map(({ type, value }) => [type, Number(value)]));
  const part = (type: Intl.DateTimeFormatPartTypes) => parts.get(type) ?? 0;
  return Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'), part('second'));
}

function fromWall(wall: number, timeZone: string): number | null {
  // The offsets of a day before and after bracket any change of the clocks; the larger offset gives the earlier moment.
  const candidates = [wall - 86_400_000, wall + 86_400_000].map((around) => wall - (wallAt(around, timeZone) - around)).sort((a, b) => a - b);
  return candidates.find((moment) => wallAt(moment, timeZone) === wall) ?? null;
}
