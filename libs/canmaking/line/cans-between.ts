import type { EpochMs } from '../units.js';
import { countedBefore, type CountCurve, firstIndex } from './count-curve.js';
import { type Bound, boundedByDryMoments } from './dry-moments.js';

/** What bounds the cans between two steps; `mostCans` is never exceeded, `leastCans` holds while both steps run. */
export type CansBetween = { shortestSeconds: number; longestSeconds: number; leastCans: number | null; mostCans: number };

/**
 * A part of the records in which the counters of both steps agree with each other. `low` and `high` bound the offset at each
 * bound: cans between the steps, less good cans out of the earlier step, plus all cans out of the later one, both as counted.
 * Cans that leave uncounted make it fall with time.
 */
export type Frame = {
  from: EpochMs; until: EpochMs; bounds: readonly Bound[];
  /** What separates it from the frame before. */
  after: 'start' | 'gap' | 'contradiction';
};

// Parts of a can come from straight lines inside spans.
const rounding = 1e-3;
/** At most so many of the cans of the later step leave between the steps uncounted: for checks, by hand, at steps that do not count. */
export const UNCOUNTED_SHARE = 1 / 500;

type Run = { first: number; last: number };

/**
 * Frames in order of time. Within one the offset at the end of each span lies between what that moment allows by itself:
 * between zero and the most cans, and at least what left the earlier step within the shortest passage; and from one moment
 * to the next it falls by no more than what may leave uncounted. A counter that was away begins a new frame. Where no
 * offset is left (a counter set back, clocks apart, cans taken in or out) the part in which the contradiction arose belongs
 * to no frame.
 */
export function frames(earlier: CountCurve, later: CountCurve, between: CansBetween): Frame[] {
  const start = Math.max(earlier.first, later.first);
  const end = Math.min(earlier.last, later.last);
  const edges = [...new Set([...earlier.edges, ...later.edges])].sort((a, b) => a - b);
  const found: Frame[] = [];
  for (const part of covered(start, end, [...earlier.gaps, ...later.gaps])) {
    const inside = edges.slice(firstIndex(edges.length, (index) => (edges[index] ?? 0) >= part.from), firstIndex(edges.length, (index) => (edges[index] ?? 0) > part.until));
    const bounds = inside.map((at) => boundAt(at, part.from, earlier, later, between));
    const falls = inside.map((at, index) => UNCOUNTED_SHARE * (countedBefore(later, at).most - countedBefore(later, inside[index - 1] ?? at).least));
    const kept = runs(bounds, falls);
    kept.forEach(({ first, last }, index) => {
      const hard = bounds.slice(first, last + 1);
      const fall = falls.slice(first, last + 1);
      const joint = joined(hard, fall) ?? hard;
      const dry = joined(boundedByDryMoments(hard, joint.map(({ low }) => low), earlier, later, between), fall);
      found.push({
        from: index === 0 && first === 0 ? part.from : hard[0]?.at ?? part.from,
        until: index === kept.length - 1 && last === bounds.length - 1 ? part.until : hard.at(-1)?.at ?? part.until,
        bounds: dry ?? joint,
        after: index > 0 || first > 0 ? 'contradiction' : found.length === 0 ? 'start' : 'gap',
      });
    });
  }
  return found;
}

/** The lowest and highest offset that a moment of a frame allows. */
export function offsetAt({ bounds }: Frame, moment: EpochMs): { low: number; high: number } {
  const after = firstIndex(bounds.length, (index) => (bounds[index]?.at ?? 0) >= moment);
  const [before, next] = [bounds[bounds[after]?.at === moment ? after : after - 1] ?? bounds[0], bounds[after] ?? bounds.at(-1)];
  return { low: Math.min(before?.low ?? Number.NEGATIVE_INFINITY, next?.low ?? Number.NEGATIVE_INFINITY), high: Math.max(before?.high ?? Number.POSITIVE_INFINITY, next?.high ?? Number.POSITIVE_INFINITY) };
}

function boundAt(at: EpochMs, partFrom: EpochMs, earlier: CountCurve, later: CountCurve, between: CansBetween): Bound {
  const out = countedBefore(later, at);
  const made = countedBefore(earlier, at);
  const shortest = between.shortestSeconds * 1000;
  const arrived = at - shortest >= partFrom ? countedBefore(earlier, at - shortest).most : made.most;
  const steady = least(at, partFrom, earlier, later, between);
  return { at, low: Math.max(out.least - arrived, steady === null ? Number.NEGATIVE_INFINITY : out.least - made.most + steady), high: between.mostCans - made.least + out.most };
}

// The least holds while running. Both steps must have run for a whole passage with hardly a stop, and what the short
// stops may have drained is taken off.
function least(at: EpochMs, partFrom: EpochMs, earlier: CountCurve, later: CountCurve, between: CansBetween): number | null {
  const minutes = between.longestSeconds / 60;
  const from = at - minutes * 60_000;
  if (between.leastCans === null || minutes === 0 || from < partFrom) return null;
  let drained = 0;
  for (const step of [earlier, later]) {
    const full = step.peakPerMinute * minutes;
    const made = countedBefore(step, at).least - countedBefore(step, from).most;
    if (full === 0 || made < 0.9 * full) return null;
    drained = Math.max(drained, ((full - made) / step.peakPerMinute) * Math.max(earlier.peakPerMinute, later.peakPerMinute));
  }
  return Math.max(0, between.leastCans - drained);
}

// What neighbours say together, forward and back; null where they leave no offset.
function joined(bounds: readonly Bound[], falls: readonly number[]): Bound[] | null {
  const all = bounds.map((bound) => ({ ...bound }));
  for (let index = 1; index < all.length; index += 1) narrow(all[index] as Bound, all[index - 1] as Bound, falls[index] ?? 0, 0);
  for (let index = all.length - 2; index >= 0; index -= 1) narrow(all[index] as Bound, all[index + 1] as Bound, 0, falls[index + 1] ?? 0);
  return all.every(({ low, high }) => low <= high + rounding) ? all : null;
}

function narrow(bound: Bound, by: Bound, fall: number, rise: number): void {
  bound.low = Math.max(bound.low, by.low - fall);
  bound.high = Math.min(bound.high, by.high + rise);
}

// Runs of neighbours that agree. Going forward a jump is noticed late, going backward early: what lies between is left out.
function runs(bounds: readonly Bound[], falls: readonly number[]): Run[] {
  const forward = longest(bounds, (bound, before, index) => narrow(bound, before, falls[index] ?? 0, 0));
  const back = longest([...bounds].reverse(), (bound, after, index) => narrow(bound, after, 0, falls[bounds.length - index] ?? 0));
  const backward = back.map(({ first, last }) => ({ first: bounds.length - 1 - last, last: bounds.length - 1 - first })).reverse();
  return forward.flatMap(({ first }, index) => {
    const last = backward[index]?.last ?? -1;
    return last < first ? [] : [{ first, last }];
  });
}

// Each run goes on as long as an offset is left, and the next begins where it could not.
function longest(bounds: readonly Bound[], narrowed: (bound: Bound, by: Bound, index: number) => void): Run[] {
  const found: Run[] = [];
  let [open, reached]: [Run | null, Bound | null] = [null, null];
  bounds.forEach((given, index) => {
    const bound = { ...given };
    if (open !== null && reached !== null) {
      narrowed(bound, reached, index);
      if (bound.low <= bound.high + rounding) { open.last = index; reached = bound; return; }
    }
    const begins = given.low <= given.high + rounding;
    [open, reached] = begins ? [{ first: index, last: index }, { ...given }] : [null, null];
    if (open !== null) found.push(open);
  });
  return found;
}

function covered(start: EpochMs, end: EpochMs, gaps: readonly { from: EpochMs; until: EpochMs }[]): { from: EpochMs; until: EpochMs }[] {
  const parts: { from: EpochMs; until: EpochMs }[] = [];
  let from = start;
  for (const gap of [...gaps].sort((a, b) => a.from - b.from)) {
    if (gap.from > from) parts.push({ from, until: Math.min(gap.from, end) });
    from = Math.max(from, gap.until);
  }
  if (from < end) parts.push({ from, until: end });
  return parts.filter((part) => part.until > part.from);
}
