import { useMemo } from 'react';
import { useSession } from './session.js';

const DAY = 86_400_000;
/** As wide as a plus and read out as minus; a hyphen is neither. */
const MINUS = '−';

/** Moments in the plant's zone, numbers with the decimals of their gauge. */
export function makeFormat(timeZone: string, language = 'en-GB') {
  const dateTime = new Intl.DateTimeFormat(language, { timeZone, dateStyle: 'medium', timeStyle: 'short' });
  const date = new Intl.DateTimeFormat(language, { timeZone, dateStyle: 'medium' });
  const time = new Intl.DateTimeFormat(language, { timeZone, timeStyle: 'short' });
  const day = new Intl.DateTimeFormat(language, { timeZone: 'UTC', dateStyle: 'medium' });
  const parts = new Intl.DateTimeFormat('sv-SE', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit' });
  // Making one costs fifty times what using it does, and a chart of a year says many numbers.
  const numbers = new Map<string, Intl.NumberFormat>();
  const numberFormat = (decimals: number, useGrouping: boolean): Intl.NumberFormat => {
    const key = `${decimals} ${useGrouping}`;
    const known = numbers.get(key) ?? new Intl.NumberFormat(language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping, signDisplay: 'negative' });
    numbers.set(key, known);
    return known;
  };
  const number = (value: number | null | undefined, decimals: number) => (value === null || value === undefined ? '–' : numberFormat(decimals, Math.abs(value) >= 10_000).format(value).replace('-', MINUS));
  const wall = (moment: Date) => parts.format(moment).replace(' ', 'T');
  /** Every moment at which the plant's clocks show this text: one, two in the repeated hour of autumn, none in the hour that spring skips. */
  const momentsOf = (text: string): string[] => {
    const shown = new Date(`${text}Z`).getTime();
    if (Number.isNaN(shown)) return [];
    const wallAt = (at: number) => new Date(`${wall(new Date(at))}Z`).getTime();
    // What a zone is ahead of UTC on the day before and the day after brackets any change of its clocks.
    const candidates = [shown - DAY, shown + DAY].map((around) => shown - (wallAt(around) - around));
    return [...new Set(candidates)].filter((at) => wallAt(at) === shown).sort((a, b) => a - b).map((at) => new Date(at).toISOString());
  };
  // Some zones change at midnight: their day begins at the first minute after the gap.
  const afterSkippedMidnight = (text: string): string | null => momentsOf(text.replace('T00:00', 'T01:00'))[0] ?? null;
  return {
    timeZone,
    dateTime: (iso: string) => dateTime.format(new Date(iso)),
    date: (iso: string) => date.format(new Date(iso)),
    /** A day without a time, "2026-03-01". */
    day: (text: string) => day.format(new Date(text)),
    time: (iso: string) => time.format(new Date(iso)),
    /** "2026-03-01T08:30:00" in the plant's zone, for charts and inputs. */
    wall: (iso: string) => wall(new Date(iso)),
    number,
    withUnit: (value: number | null | undefined, decimals: number, unit: string) => (value === null || value === undefined ? '–' : `${number(value, decimals)} ${unit}`),
    /** For <input type="datetime-local">. */
    toInput: (iso: string) => wall(new Date(iso)).slice(0, 16),
    momentsOf,
    /** The moment that the plant's clocks show as this text; null when it is none, or an hour that the clocks skip. In the repeated hour of autumn the first one is meant: see momentsOf. */
    fromInput: (text: string): string | null => momentsOf(text)[0] ?? (text.endsWith('T00:00') ? afterSkippedMidnight(text) : null),
  };
}
export type Format = ReturnType<typeof makeFormat>;

export function useFormat(): Format {
  const { plant } = useSession();
  return useMemo(() => makeFormat(plant.timeZone), [plant.timeZone]);
}
