import type { EpochMs } from '../units.js';
import { countedBefore, type CountCurve } from './count-curve.js';

/** What bounds the cans between two steps; `mostCans` is never exceeded, `leastCans` holds while both steps run. */
export type CansBetween = { shortestSeconds: number; longestSeconds: number; leastCans: number | null; mostCans: number };

/**
 * A part of the records in which the counters of both steps agree with each other. `low` and `high` bound the offset: cans
 * between the steps, less good cans out of the earlier step, plus all cans out of the later one, both as counted.
 */
export type Frame = {
  from: EpochMs; until: EpochMs; low: number; high: number;
  /** What separates it from the frame before. */
  after: 'start' | 'gap' | 'contradiction';
};

// Parts of a can come from straight lines inside spans.
const rounding = 1e-3;

type Bound = { at: EpochMs; low: number; high: number };
type Run = { first: number; last: number };

/**
 * Frames in order of time. Within one the offset is the intersection of what each end of a span allows: between zero and
 * the most cans, and at least what left the earlier step within the shortest passage. A counter that was away begins a new
 * frame. Where the intersection is empty (a counter set back, clocks apart, cans taken in or out) the part in which the
 * contradiction arose belongs to no frame.
 */
export function frames(earlier: CountCurve, later: CountCurve, between: CansBetween): Frame[] {
  const start = Math.max(earlier.first, later.first);
  const end = Math.min(earlier.last, later.last);
  const edges = [...new Set([...earlier.edges, ...later.edges])].sort((a, b) => a - b);
  const found: Frame[] = [];
  for (const part of covered(start, end, [...earlier.gaps, ...later.gaps])) {
    const bounds = edges.filter((edge) => edge >= part.from && edge <= part.until).map((at) => boundAt(at, part.from, earlier, later, between));
    const forward = runs(bounds);
    const backward = runs([...bounds].reverse()).map(({ first, last }) => ({ first: bounds.length - 1 - last, last: bounds.length - 1 - first })).reverse();
    forward.forEach(({ first }, index) => {
      const last = backward[index]?.last ?? -1;
      // Going forward a jump is noticed late, going backward early: what lies between the two is left out.
      if (last < first) return;
      const inside = bounds.slice(first, last + 1);
      found.push({
        from: index === 0 && first === 0 ? part.from : inside[0]?.at ?? part.from,
        until: index === forward.length - 1 && last === bounds.length - 1 ? part.until : inside.at(-1)?.at ?? part.until,
        low: inside.reduce((most, { low }) => Math.max(most, low), Number.NEGATIVE_INFINITY),
        high: inside.reduce((least, { high }) => Math.min(least, high), Number.POSITIVE_INFINITY),
        after: index > 0 || first > 0 ? 'contradiction' : found.length === 0 ? 'start' : 'gap',
      });
    });
  }
  return found;
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

// Longest runs of neighbours that have a common offset, each begun where the one before could not go on.
function runs(bounds: readonly Bound[]): Run[] {
  const found: Run[] = [];
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  let open: Run | null = null;
  bounds.forEach((bound, index) => {
    low = Math.max(low, bound.low);
    high = Math.min(high, bound.high);
    if (open !== null && low <= high + rounding) { open.last = index; return; }
    [low, high] = [bound.low, bound.high];
    open = low <= high + rounding ? { first: index, last: index } : null;
    if (open !== null) found.push(open);
    else [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
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
