import type { EpochMs } from '../units.js';

const hour = 3_600_000;
const minute = 60_000;
/** No zone is further than this from UTC. */
const farthest = 26 * hour;

const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(timeZone: string): Intl.DateTimeFormat {
  const known = formats.get(timeZone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone, calendar: 'iso8601', numberingSystem: 'latn', year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit', hourCycle: 'h23',
  });
  formats.set(timeZone, made);
  return made;
}

export type WallClock = { readonly year: number; readonly month: number; readonly day: number; readonly hour: number; readonly minute: number; readonly second: number };

/** What a clock of the zone shows. @throws RangeError for a zone that is not in the IANA list. */
export function wallClock(at: EpochMs, timeZone: string): WallClock {
  const parts = new Map(formatOf(timeZone).formatToParts(at).map(({ type, value }) => [type, Number(value)]));
  const part = (type: Intl.DateTimeFormatPartTypes) => parts.get(type) ?? 0;
  return { year: part('year'), month: part('month'), day: part('day'), hour: part('hour'), minute: part('minute'), second: part('second') };
}

function offsetAt(at: EpochMs, timeZone: string): number {
  const { year, month, day, hour: hours, minute: minutes, second } = wallClock(at, timeZone);
  return Date.UTC(year, month - 1, day, hours, minutes, second) - Math.floor(at / 1000) * 1000;
}

export type Span = { readonly from: EpochMs; readonly until: EpochMs };

/**
 * All moments at which a clock of the zone shows a time from `from` up to `until`, both written as if the wall were UTC.
 * Spans that touch are one: an hour that the change of the clock repeats is two hours wide, a repeated minute is two spans,
 * a skipped hour is none.
 */
export function spansOfWall({ from, until }: Span, timeZone: string): Span[] {
  const spans: Span[] = [];
  for (const piece of steadyPieces(from - farthest, until + farthest, timeZone)) {
    const start = Math.max(from - piece.offset, piece.from);
    const end = Math.min(until - piece.offset, piece.until);
    if (start >= end) continue;
    const last = spans.at(-1);
    if (last && last.until >= start) spans[spans.length - 1] = { from: last.from, until: Math.max(last.until, end) };
    else spans.push({ from: start, until: end });
  }
  return spans;
}

/** The stretch cut where the offset of the zone changes, to the minute (the changes of our time fall on whole minutes). */
function steadyPieces(from: EpochMs, until: EpochMs, timeZone: string): (Span & { offset: number })[] {
  const pieces: (Span & { offset: number })[] = [];
  let start = from;
  let offset = offsetAt(from, timeZone);
  for (let at = from; at < until;) {
    const next = Math.min(at + hour, until);
    const after = offsetAt(next, timeZone);
    if (after !== offset) {
      let [low, high] = [at, next];
      while (high - low > minute) {
        const middle = low + Math.max(1, Math.floor((high - low) / 2 / minute)) * minute;
        if (offsetAt(middle, timeZone) === offset) low = middle;
        else high = middle;
      }
      pieces.push({ from: start, until: high, offset });
      [start, offset] = [high, after];
    }
    at = next;
  }
  pieces.push({ from: start, until, offset });
  return pieces;
}
