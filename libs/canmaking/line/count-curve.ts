import { requireFinite, requireNotNegative, requirePositive } from '../require-number.js';
import type { EpochMs } from '../units.js';

/** `machineId` where the spans of machines side by side are to be told apart. */
export type CountedSpan = { machineId?: number | undefined; at: EpochMs; minutes: number; cans: number };

/** Straight pieces from `after[i]` at `times[i]` to `before[i + 1]`; nothing before the first, level after the last. */
type Curve = { times: number[]; before: number[]; after: number[] };
type Ramp = { from: number; until: number; amount: number };

/**
 * What spans say about a cumulative count: exact where every machine's span ends, and bounded in between. `low` and `high`
 * are the fewest and most cans before a moment: a machine that stood for part of a span may have made its cans at the
 * span's beginning or at its end.
 */
export type CountCurve = {
  low: Curve; high: Curve; first: EpochMs; last: EpochMs; total: number;
  /** Ends of spans, ascending, each once. */
  edges: readonly EpochMs[];
  /** Between first and last, where fewer machines are covered by spans than at other times: the count is not known. */
  gaps: readonly { from: EpochMs; until: EpochMs }[];
  /** Cans a minute of the step at full speed, all machines. */
  peakPerMinute: number;
};

const minute = 60_000;
// Which speed a machine can reach is learned from its fastest span; that span may itself hold a short stop.
export const speedMargin = 1.1;

/**
 * Adds the spans of all machines of a step to one cumulative count.
 * @returns null without spans
 * @throws RangeError naming the bad input; counts below zero are refused, they are no production.
 */
export function countCurve(spans: readonly CountedSpan[]): CountCurve | null {
  if (spans.length === 0) return null;
  const whole = spans.map(({ at, minutes, cans }) => {
    const from = requireFinite('at', at);
    return { from, until: from + requirePositive('minutes', minutes) * minute, amount: requireNotNegative('cans', cans) };
  });
  const fastest = fullSpeed(whole);
  const speed = speedMargin * fastest;
  const edges = [...new Set(whole.flatMap(({ from, until }) => [from, until]))].sort((a, b) => a - b);
  const { gaps, machines } = coverage(whole, edges);
  return {
    low: curveOf(whole.flatMap((span) => latest(span, speed))), high: curveOf(whole.flatMap((span) => soonest(span, speed))),
    first: edges[0] ?? 0, last: edges.at(-1) ?? 0, total: whole.reduce((sum, { amount }) => sum + amount, 0),
    edges, gaps, peakPerMinute: fastest * machines * minute,
  };
}

/** Fewest and most cans counted strictly before a moment. */
export function countedBefore({ low, high }: CountCurve, moment: EpochMs): { least: number; most: number } {
  return { least: valueAt(low, moment, low.after), most: valueAt(high, moment, high.before) };
}

/** When the n-th can was counted, at the soonest and at the latest; null where the records hold no n-th can. */
export function momentOfCan({ low, high }: CountCurve, n: number): { soonest: EpochMs; latest: EpochMs } | null {
  const soonest = firstReach(high, n);
  const last = firstReach(low, n);
  return soonest === null || last === null ? null : { soonest, latest: last };
}

// The fastest span, but for one far above the fastest twentieth: that is a counter which somebody set, not a machine.
function fullSpeed(spans: readonly Ramp[]): number {
  const speeds = spans.map(({ from, until, amount }) => amount / (until - from)).filter((speed) => speed > 0).sort((a, b) => a - b);
  const usual = speeds[Math.ceil(0.95 * speeds.length) - 1] ?? 0;
  return speeds.findLast((speed) => speed <= 1.5 * usual) ?? 0;
}

// At full speed from the beginning, the first can at once. A count that no machine makes may have come at any moment.
function soonest({ from, until, amount }: Ramp, speed: number): Ramp[] {
  if (amount === 0) return [];
  if (amount > speed * (until - from)) return [{ from, until: from, amount }];
  const one = Math.min(1, amount);
  return [{ from, until: from, amount: one }, { from, until: Math.min(until, from + (amount - one) / speed), amount: amount - one }];
}

// At full speed up to the end, the last can at the end.
function latest({ from, until, amount }: Ramp, speed: number): Ramp[] {
  if (amount === 0) return [];
  if (amount > speed * (until - from)) return [{ from: until, until, amount }];
  const one = Math.min(1, amount);
  return [{ from: Math.max(from, until - (amount - one) / speed), until, amount: amount - one }, { from: until, until, amount: one }];
}

function curveOf(ramps: readonly Ramp[]): Curve {
  const byStart = [...ramps].sort((a, b) => a.from - b.from);
  const times = [...new Set(ramps.flatMap(({ from, until }) => [from, until]))].sort((a, b) => a - b);
  const curve: Curve = { times, before: [], after: [] };
  let done = 0;
  let next = 0;
  let active: Ramp[] = [];
  for (const time of times) {
    curve.before.push(active.reduce((sum, { from, until, amount }) => sum + (amount * (time - from)) / (until - from), done));
    for (; next < byStart.length; next += 1) {
      const ramp = byStart[next];
      if (ramp === undefined || ramp.from > time) break;
      active.push(ramp);
    }
    // Finished ramps are added whole, so that no rounding piles up over a season of spans.
    for (const { until, amount } of active) if (until <= time) done += amount;
    active = active.filter(({ until }) => until > time);
    curve.after.push(active.reduce((sum, { from, until, amount }) => sum + (amount * (time - from)) / (until - from), done));
  }
  return curve;
}

/** Value at a moment; where the curve jumps, the side that `atPoint` holds. */
function valueAt({ times, before, after }: Curve, moment: number, atPoint: readonly number[]): number {
  const index = firstIndex(times.length, (i) => (times[i] ?? 0) >= moment);
  if (times[index] === moment) return atPoint[index] ?? 0;
  if (index === 0) return 0;
  const start = after[index - 1] ?? 0;
  const [from, until] = [times[index - 1] ?? 0, times[index]];
  return until === undefined ? start : start + (((before[index] ?? 0) - start) * (moment - from)) / (until - from);
}

// A ten-thousandth of a can is rounding, not a can.
function firstReach({ times, before, after }: Curve, n: number): number | null {
  const wanted = n - 1e-4;
  const index = firstIndex(times.length, (i) => (after[i] ?? 0) >= wanted);
  const time = times[index];
  if (time === undefined) return null;
  const [start, end] = [after[index - 1] ?? 0, before[index] ?? 0];
  if (index === 0 || end < wanted || end <= start) return time;
  const from = times[index - 1] ?? 0;
  return from + ((time - from) * (wanted - start)) / (end - start);
}

/** The first index of a sorted list at which something begins to hold; its length where it never does. */
export function firstIndex(length: number, holds: (index: number) => boolean): number {
  let [low, high] = [0, length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

// The spans carry no machine, so one that is away shows only as fewer spans side by side than at other times.
function coverage(spans: readonly Ramp[], edges: readonly number[]): { gaps: { from: number; until: number }[]; machines: number } {
  const change = new Map<number, number>();
  for (const { from, until } of spans) {
    change.set(from, (change.get(from) ?? 0) + 1);
    change.set(until, (change.get(until) ?? 0) - 1);
  }
  let beside = 0;
  const counts = edges.map((edge) => { beside += change.get(edge) ?? 0; return beside; });
  const machines = counts.reduce((most, count) => Math.max(most, count), 0);
  const gaps: { from: number; until: number }[] = [];
  for (let index = 0; index + 1 < edges.length; index += 1) {
    if ((counts[index] ?? 0) >= machines) continue;
    const [from, until] = [edges[index] ?? 0, edges[index + 1] ?? 0];
    const before = gaps.at(-1);
    if (before?.until === from) before.until = until;
    else gaps.push({ from, until });
  }
  return { gaps, machines };
}
