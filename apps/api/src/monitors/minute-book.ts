import { subgroupStatistics } from '#statistics/charts/subgroup';

export const MINUTE_MS = 60_000;
/** A counter that jumps by more than this within a minute has begun anew: no line makes so many bodies. */
const LONGEST_PART = 20_000;
/** `offsets` are milliseconds of the minute less this, so that they fit 16 bits. */
const HALF_MINUTE = 30_000;

export type BodyReading = { streamId: number; at: number; count: number | null; value: number };
/** `values[i]` is body `first + i`, NaN where it did not come. */
type Part = { first: number; values: number[] };
export type Minute = { streamId: number; minute: number; parts: Part[]; timed: Map<number, number>; stored: boolean; dirty: boolean };
export type Added = 'new' | 'repeated' | { stored: number };
export type ChunkRow = { streamId: number; minute: number; part: number; n: number; mean: number; range: number; sd: number | null; low: number; high: number; firstCount: number | null; lastCount: number | null; offsets: number[]; readings: (number | null)[] };
export type StoredChunk = Pick<ChunkRow, 'streamId' | 'minute' | 'firstCount' | 'offsets' | 'readings'>;

export const minuteOf = (at: number): number => Math.floor(at / MINUTE_MS) * MINUTE_MS;

/**
 * The every-body readings of the minutes that are not yet folded into chunks, each body in its place: by its counter, or
 * without one by its millisecond. Tells a repeat from something new, whatever the order in which bodies come.
 */
export class MinuteBook {
  private readonly streams = new Map<number, Map<number, Minute>>();

  has(streamId: number, minute: number): boolean {
    return this.streams.get(streamId)?.has(minute) ?? false;
  }

  knows(streamId: number): boolean {
    return this.streams.has(streamId);
  }

  /** Opens a minute with what is stored of it, if anything is. */
  open(streamId: number, minute: number, chunks: readonly StoredChunk[]): void {
    const stored: Minute = { streamId, minute, parts: [], timed: new Map(), stored: chunks.length > 0, dirty: false };
    for (const { firstCount, offsets, readings } of chunks) {
      if (firstCount !== null) stored.parts.push({ first: firstCount, values: readings.map((value) => value ?? Number.NaN) });
      else for (const [index, offset] of offsets.entries()) stored.timed.set(offset + HALF_MINUTE, readings[index] ?? Number.NaN);
    }
    this.ofStream(streamId).set(minute, stored);
  }

  /** `anyMinute`: the message carried no time of its own, so a repeat of it may come in another minute. */
  add({ streamId, at, count, value }: BodyReading, anyMinute = false): Added {
    const minutes = this.ofStream(streamId);
    const start = minuteOf(at);
    if (count !== null && anyMinute) {
      for (const other of minutes.values()) {
        const there = valueAt(other, count);
        if (there !== undefined) return same(there, value);
      }
    }
    let minute = minutes.get(start);
    if (!minute) {
      minute = { streamId, minute: start, parts: [], timed: new Map(), stored: false, dirty: false };
      minutes.set(start, minute);
    }
    const there = count === null ? minute.timed.get(at - start) : valueAt(minute, count);
    if (there !== undefined) return same(there, value);
    if (count === null) minute.timed.set(at - start, value);
    else place(minute.parts, count, value);
    minute.dirty = true;
    return 'new';
  }

  /** Whether the minute was folded before with any of these bodies in it. */
  wasStoredWith(streamId: number, at: number, from: number, size: number): boolean {
    const minute = this.streams.get(streamId)?.get(minuteOf(at));
    if (!minute?.stored) return false;
    for (let count = from; count < from + size; count += 1) if (valueAt(minute, count) !== undefined) return true;
    return false;
  }

  /** Whether the minute was folded before at all: for streams without a counter. */
  wasStored(streamId: number, at: number): boolean {
    return this.streams.get(streamId)?.get(minuteOf(at))?.stored ?? false;
  }

  /** How many bodies without a counter were folded between two moments, the second one left out. */
  countStored(streamId: number, from: number, until: number): number {
    let count = 0;
    for (const { minute, timed, stored } of this.streams.get(streamId)?.values() ?? []) {
      if (stored) for (const offset of timed.keys()) if (minute + offset >= from && minute + offset < until) count += 1;
    }
    return count;
  }

  /** Up to `take` minutes that ended by `end` (epoch ms) and hold something new. */
  unfolded(end: number, take: number): Minute[] {
    const found: Minute[] = [];
    for (const minutes of this.streams.values()) {
      for (const minute of minutes.values()) {
        if (minute.dirty && minute.minute + MINUTE_MS <= end) found.push(minute);
        if (found.length === take) return found;
      }
    }
    return found;
  }

  /** After the commit that stored the rows of these minutes. */
  folded(minutes: readonly Minute[]): void {
    for (const minute of minutes) [minute.dirty, minute.stored] = [false, true];
  }

  /** Lets go of folded minutes that ended longer before `end` than `keep` of their stream says. */
  forget(end: number, keep: (streamId: number) => number): void {
    for (const [streamId, minutes] of this.streams) {
      for (const [start, minute] of minutes) if (!minute.dirty && start + MINUTE_MS <= end - keep(streamId)) minutes.delete(start);
      if (minutes.size === 0) this.streams.delete(streamId);
    }
  }

  private ofStream(streamId: number): Map<number, Minute> {
    let minutes = this.streams.get(streamId);
    if (!minutes) {
      minutes = new Map();
      this.streams.set(streamId, minutes);
    }
    return minutes;
  }
}

/** Readings are stored in single precision: two that agree there are one. */
const same = (there: number, value: number): Added => (Math.fround(there) === Math.fround(value) ? 'repeated' : { stored: there });

function valueAt(minute: Minute, count: number): number | undefined {
  for (const { first, values } of minute.parts) {
    const value = values[count - first];
    if (value !== undefined && !Number.isNaN(value)) return value;
  }
  return undefined;
}

function place(parts: Part[], count: number, value: number): void {
  const part = parts.find(({ first, values }) => count > first + values.length - 1 - LONGEST_PART && count < first + LONGEST_PART);
  if (!part) {
    parts.push({ first: count, values: [value] });
    return;
  }
  if (count < part.first) {
    part.values.unshift(...new Array<number>(part.first - count).fill(Number.NaN));
    part.first = count;
  }
  while (part.values.length < count - part.first) part.values.push(Number.NaN);
  part.values[count - part.first] = value;
}

/** A minute as chunk rows: one for each run of the counter, and one for readings without a counter. */
export function rowsOf({ streamId, minute, parts, timed }: Minute): ChunkRow[] {
  const rows = parts.map(({ first, values }) => ({ firstCount: first as number | null, lastCount: (first + values.length - 1) as number | null, offsets: [] as number[], readings: values.map((value) => (Number.isNaN(value) ? null : value)) }));
  if (timed.size > 0) {
    const sorted = [...timed].sort(([one], [other]) => one - other);
    rows.push({ firstCount: null, lastCount: null, offsets: sorted.map(([offset]) => offset - HALF_MINUTE), readings: sorted.map(([, value]) => value) });
  }
  return rows.map((row, part) => {
    const { n, mean, sd, low, high } = subgroupStatistics(row.readings);
    return { streamId, minute, part, n, mean: mean as number, range: (high as number) - (low as number), sd, low: low as number, high: high as number, ...row };
  });
}
