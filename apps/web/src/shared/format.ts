import { useMemo } from 'react';
import { useSession } from './session.js';

/** Moments in the plant's zone, numbers with the decimals of their gauge. */
export function makeFormat(timeZone: string, language = 'en-GB') {
  const dateTime = new Intl.DateTimeFormat(language, { timeZone, dateStyle: 'medium', timeStyle: 'short' });
  const date = new Intl.DateTimeFormat(language, { timeZone, dateStyle: 'medium' });
  const time = new Intl.DateTimeFormat(language, { timeZone, timeStyle: 'short' });
  const parts = new Intl.DateTimeFormat('sv-SE', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit' });
  const number = (value: number | null | undefined, decimals: number) => (value === null || value === undefined ? '–' : new Intl.NumberFormat(language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: Math.abs(value) >= 10_000 }).format(value));
  const wall = (moment: Date) => parts.format(moment).replace(' ', 'T');
  return {
    timeZone,
    dateTime: (iso: string) => dateTime.format(new Date(iso)),
    date: (iso: string) => date.format(new Date(iso)),
    /** A day without a time, "2026-03-01". */
    day: (day: string) => new Intl.DateTimeFormat(language, { timeZone: 'UTC', dateStyle: 'medium' }).format(new Date(day)),
    time: (iso: string) => time.format(new Date(iso)),
    /** "2026-03-01T08:30:00" in the plant's zone, for charts and inputs. */
    wall: (iso: string) => wall(new Date(iso)),
    number,
    withUnit: (value: number | null | undefined, decimals: number, unit: string) => (value === null || value === undefined ? '–' : `${number(value, decimals)} ${unit}`),
    /** For <input type="datetime-local">. */
    toInput: (iso: string) => wall(new Date(iso)).slice(0, 16),
    /** The moment that the plant's clocks show as this text; null when it is no date and time. In the repeated hour of autumn the first one is meant. */
    fromInput: (text: string): string | null => {
      const guess = new Date(`${text}Z`);
      if (Number.isNaN(guess.getTime())) return null;
      let moment = guess.getTime();
      for (let round = 0; round < 3; round += 1) {
        const shown = new Date(`${wall(new Date(moment))}Z`).getTime();
        if (shown === guess.getTime()) break;
        moment += guess.getTime() - shown;
      }
      const hourBefore = new Date(moment - 3_600_000);
      if (wall(hourBefore) === wall(new Date(moment))) moment = hourBefore.getTime();
      return new Date(moment).toISOString();
    },
  };
}
export type Format = ReturnType<typeof makeFormat>;

export function useFormat(): Format {
  const { plant } = useSession();
  return useMemo(() => makeFormat(plant.timeZone), [plant.timeZone]);
}
