import { requireFinite } from '../require-number.js';
import type { Shift } from '../line/shifts.js';
import type { EpochMs } from '../units.js';
import { type CodedLine, type CodeReading, matchCode } from './match-code.js';
import type { CodePattern } from './parse-pattern.js';
import { type Span, spansOfWall, wallClock } from './plant-clock.js';
import { shiftsOfLetter, wallsOfShifts } from './shift-hours.js';

/** `before`: when the can was received; a can is not made after that. `firstRecord`: the oldest record of the line, null without any. `shifts`: those of the plant, as they are set up now. */
export type DecodingContext = {
  readonly timeZone: string; readonly before: EpochMs; readonly firstRecord: EpochMs | null; readonly line: CodedLine; readonly printedAtStepId: number; readonly shifts: readonly Shift[];
};

/** What to know about a meaning before it is used. */
export type CodeCaution =
  /** The year is not, or not wholly, in the code: the latest possible one was taken. */
  | 'year-taken'
  /** The clock was set back: the code names twice as long a time, or two times. */
  | 'clock-set-back'
  /** Nothing is on record from then. */
  | 'before-first-record'
  /** Half or head, which the pattern puts at the end, is not there: not known. */
  | 'mark-missing'
  /** No shift of the plant goes by the letter: it narrowed nothing. */
  | 'shift-unknown'
  /** That shift is not on at the time that the code names, as the shifts are set up now: the time alone was taken. */
  | 'shift-differs';

/** From the first moment that the code names up to, not including, the last; the printer's clock as read. */
export type CodeMeaning = Span & {
  readonly lineId: number; readonly machineId: number | null; readonly unitId: number | null; readonly laneId: number | null; readonly shift: string | null;
  readonly precision: 'day' | 'shift' | 'hour' | 'minute';
  readonly cautions: readonly CodeCaution[];
};

export type CodeRefusal =
  | { readonly kind: 'does-not-fit'; readonly position: number; readonly expected: string; readonly found: string }
  | { readonly kind: 'no-such-day' | 'no-such-time' | 'skipped-by-the-clock' | 'after-receipt'; readonly named: string };

export type Decoding = { readonly meanings: readonly CodeMeaning[]; readonly refusals: readonly CodeRefusal[] };

const day = 86_400_000;
const hour = 3_600_000;
const minute = 60_000;
/** Enough for the 29th of February of a year of one digit, twice. */
const MOST_YEARS_BACK = 40;

/**
 * Every meaning that a can code may have by one pattern of one line, as spans of UTC, and why the others are none.
 * The time is read by the plant's clock, whatever the reader's: hours that a change of the clock repeats or skips are seen.
 * The letter of a shift narrows the time to the hours of that shift on the day, those of the night before included.
 * A year of one digit, or none, is the latest in which that day lies before the receipt. Common practice, no source.
 * @throws RangeError for a zone that is not in the IANA list or moments that are no numbers
 */
export function decode(pattern: CodePattern, code: string, context: DecodingContext): Decoding {
  requireFinite('before', context.before);
  const { readings, misfit } = matchCode(pattern, code, context.line, context.printedAtStepId);
  if (readings.length === 0) return { meanings: [], refusals: [{ kind: 'does-not-fit', ...misfit }] };
  const meanings = new Map<string, CodeMeaning>();
  const refusals = new Map<string, CodeRefusal>();
  for (const reading of readings) {
    const read = meaningsOf(reading, context);
    for (const meaning of read.meanings) meanings.set(JSON.stringify(meaning), meaning);
    for (const refusal of read.refusals) refusals.set(JSON.stringify(refusal), refusal);
  }
  return { meanings: [...meanings.values()].sort((a, b) => b.from - a.from), refusals: [...refusals.values()] };
}

function meaningsOf(reading: CodeReading, context: DecodingContext): Decoding {
  const time = timeNamed(reading);
  if ('kind' in time) return { meanings: [], refusals: [time] };
  const receivedIn = wallClock(context.before, context.timeZone).year;
  const years = yearsToTry(reading, receivedIn);
  const dates = years.flatMap((year) => dateNamed(reading, year) ?? []);
  if (dates.length === 0) return { meanings: [], refusals: [{ kind: 'no-such-day', named: dayWords(reading, years[0] ?? receivedIn) }] };
  const refusals: CodeRefusal[] = [];
  for (const date of dates) {
    const wall = { from: date + time.from, until: date + time.until };
    const shift = narrow(wall, date, reading.shift, context.shifts);
    const named = `${new Date(wall.from).toISOString().slice(0, 10)}${time.precision === 'day' ? '' : ` ${clockWords(reading)}`}`;
    const pieces = shift.walls.map((piece) => ({ length: piece.until - piece.from, spans: spansOfWall(piece, context.timeZone) }));
    const spans = pieces.flatMap((piece) => piece.spans.map((span) => ({ span, cautions: cautionsOf(span, piece.spans, piece.length, (reading.year?.digits ?? 0) >= 2, context) })));
    const made = spans.filter(({ span }) => span.from <= context.before);
    const [wholeDay] = spansOfWall({ from: date, until: date + day }, context.timeZone);
    if (made.length === 0 && (spans.length > 0 || (wholeDay?.from ?? date) > context.before)) {
      refusals.push({ kind: 'after-receipt', named });
      continue;
    }
    if (spans.length === 0) return { meanings: [], refusals: [{ kind: 'skipped-by-the-clock', named }] };
    // The latest possible year decides: earlier ones are other decades of the same digits.
    return { meanings: made.map(({ span, cautions }) => ({
      ...span, lineId: context.line.id, machineId: reading.machineId, unitId: reading.unitId, laneId: reading.laneId, shift: reading.shift, precision: time.precision === 'day' && shift.narrowed ? 'shift' : time.precision,
      cautions: [...cautions, ...(reading.markMissing ? ['mark-missing' as const] : []), ...(shift.caution === null ? [] : [shift.caution])],
    })), refusals: [] };
  }
  return { meanings: [], refusals: refusals.slice(0, 1) };
}

/** The part of a wall span in which the shift of a letter is on; all of it, with the reason, where the letter tells nothing or speaks against the time. */
function narrow(wall: Span, date: EpochMs, letter: string | null, shifts: readonly Shift[]): { walls: Span[]; narrowed: boolean; caution: 'shift-unknown' | 'shift-differs' | null } {
  if (letter === null) return { walls: [wall], narrowed: false, caution: null };
  const meant = shiftsOfLetter(shifts, letter);
  if (meant.length === 0) return { walls: [wall], narrowed: false, caution: 'shift-unknown' };
  const walls = wallsOfShifts(meant, date).map(({ from, until }) => ({ from: Math.max(from, wall.from), until: Math.min(until, wall.until) })).filter(({ from, until }) => until > from);
  return walls.length === 0 ? { walls: [wall], narrowed: false, caution: 'shift-differs' } : { walls, narrowed: true, caution: null };
}

function cautionsOf(span: Span, spans: readonly Span[], length: number, yearKnown: boolean, { firstRecord }: DecodingContext): CodeCaution[] {
  const repeated = spans.length > 1 || (length <= hour && span.until - span.from > length);
  return [...(yearKnown ? [] : ['year-taken' as const]), ...(repeated ? ['clock-set-back' as const] : []), ...(firstRecord !== null && span.until <= firstRecord ? ['before-first-record' as const] : [])];
}

function timeNamed({ hour: hours, minute: minutes }: CodeReading): (Span & { precision: CodeMeaning['precision'] }) | CodeRefusal {
  if (hours === null) return { from: 0, until: day, precision: 'day' };
  if (hours > 23 || (minutes ?? 0) > 59) return { kind: 'no-such-time', named: `${two(hours)}:${two(minutes ?? 0)}` };
  const from = hours * hour + (minutes ?? 0) * minute;
  return minutes === null ? { from, until: from + hour, precision: 'hour' } : { from, until: from + minute, precision: 'minute' };
}

/** Latest first. Two digits name one year, from ten years after the receipt (which is then refused) back to 89 before it. */
function yearsToTry({ year }: CodeReading, receivedIn: number): number[] {
  if (year?.digits === 4) return [year.value];
  const [latest, count] = year?.digits === 2 ? [receivedIn + 10, 100] : [receivedIn, MOST_YEARS_BACK];
  const years = Array.from({ length: count }, (_, back) => latest - back);
  return year === null ? years : years.filter((candidate) => candidate % 10 ** year.digits === year.value);
}

function dateNamed({ dayOfYear, month, day: dayOfMonth }: CodeReading, year: number): number | null {
  const at = dayOfYear === null ? Date.UTC(year, (month ?? 0) - 1, dayOfMonth ?? 0) : Date.UTC(year, 0, dayOfYear);
  const date = new Date(at);
  const fits = dayOfYear === null ? date.getUTCMonth() === (month ?? 0) - 1 && date.getUTCDate() === dayOfMonth : dayOfYear >= 1;
  return fits && date.getUTCFullYear() === year ? at : null;
}

const two = (value: number) => String(value).padStart(2, '0');
const clockWords = ({ hour: hours, minute: minutes }: CodeReading) => `${two(hours ?? 0)}:${two(minutes ?? 0)}`;
const dayWords = ({ dayOfYear, month, day: dayOfMonth, year }: CodeReading, first: number) =>
  (dayOfYear === null ? `${two(month ?? 0)}-${two(dayOfMonth ?? 0)}` : `day ${dayOfYear}`) + (year === null ? '' : ` of ${year.digits === 4 ? year.value : first}`);
