import type { Shift } from '../line/shifts.js';
import type { EpochMs } from '../units.js';
import type { Span } from './plant-clock.js';

const MINUTE = 60_000;
const DAY = 1440 * MINUTE;

/**
 * The shifts that a letter on a can means: those named by it ("C"), else those with it as a word of the name ("Shift C"), else those
 * whose name begins with it ("Late" for L). None where no name says so: an order of names is not guessed.
 */
export function shiftsOfLetter(shifts: readonly Shift[], letter: string): Shift[] {
  const wanted = letter.toUpperCase();
  const rules: ((name: string) => boolean)[] = [(name) => name === wanted, (name) => name.split(/[^\p{L}\p{N}]+/u).includes(wanted), (name) => name.startsWith(wanted)];
  for (const fits of rules) {
    const found = shifts.filter(({ name }) => fits(name.trim().toUpperCase()));
    if (found.length > 0) return found;
  }
  return [];
}

/** The letter that a shift would print; null where the letters of the names do not tell it from the others. */
export function letterOfShift(shifts: readonly Shift[], name: string): string | null {
  const letters = name.toUpperCase().split(/[^\p{L}\p{N}]+/u).filter((word) => /^[A-Z]$/.test(word));
  return [...letters, name.trim().charAt(0).toUpperCase()].find((letter) => /^[A-Z]$/.test(letter) && shiftsOfLetter(shifts, letter).every((shift) => shift.name === name)) ?? null;
}

/**
 * The hours of the shifts on one day of the plant's clocks, as walls written as if they were UTC, in order: what began the evening
 * before belongs to the day as well. Days of a shift are those of its beginning.
 * @param date midnight of the day, as if the wall were UTC
 */
export function wallsOfShifts(shifts: readonly Shift[], date: EpochMs): Span[] {
  const pieces = shifts.flatMap(({ beginMinute, endMinute, days }) => [date - DAY, date].flatMap((begun): Span[] => {
    const weekday = ((new Date(begun).getUTCDay() + 6) % 7) + 1;
    if (!days.includes(weekday)) return [];
    const from = begun + beginMinute * MINUTE;
    const until = begun + endMinute * MINUTE + (endMinute > beginMinute ? 0 : DAY);
    const [inside, end] = [Math.max(from, date), Math.min(until, date + DAY)];
    return end > inside ? [{ from: inside, until: end }] : [];
  })).sort((a, b) => a.from - b.from);
  const joined: Span[] = [];
  for (const piece of pieces) {
    const last = joined.at(-1);
    if (last && piece.from <= last.until) joined[joined.length - 1] = { from: last.from, until: Math.max(last.until, piece.until) };
    else joined.push(piece);
  }
  return joined;
}
