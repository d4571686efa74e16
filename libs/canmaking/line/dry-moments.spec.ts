import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CountBucketWithRejects, walkBackByCounts } from './cumulative-counts.js';

const minute = 60_000;
const tick = 5_000;
const travelTicks = 12;
const perTick = { earlier: 20, later: 24 };
const stretch = { shortestSeconds: 60, longestSeconds: 420, leastCans: null, mostCans: 1_600 };

type Stop = { from: number; ticks: number };
type Line = { earlier: CountBucketWithRejects[]; later: CountBucketWithRejects[]; /** When the can that left the later step last at that tick left the earlier one; null while it stands. */ leftAt: (number | null)[]; between: number[] };

/** Cans in five-second ticks: one machine fills, belt and table hold up to 1,600, a faster one takes them; some are lost uncounted. */
function simulate(ticks: number, earlierStops: readonly Stop[], laterStops: readonly Stop[], loseEvery: number, spanTicks = 12, keepsRunning = 0): Line {
  const stands = (stops: readonly Stop[], at: number) => stops.some(({ from, ticks: long }) => at >= from && at < from + long);
  const [made, taken, counted]: [number[], number[], number[]] = [[], [], []];
  const leftAt: (number | null)[] = [];
  let [out, entered, left, lost] = [0, 0, 0, 0];
  for (let at = 0; at < ticks; at += 1) {
    const arrived = at >= travelTicks ? (made[at - travelTicks] ?? 0) - entered : 0;
    const take = stands(laterStops, at) ? 0 : Math.max(0, Math.min(perTick.later, arrived - keepsRunning));
    entered += take;
    lost += take;
    const gone = Math.floor(lost / loseEvery);
    lost -= gone * loseEvery;
    out += take - gone;
    if (!stands(earlierStops, at) && left - entered < 1_500) left += perTick.earlier;
    made.push(left);
    taken.push(entered);
    counted.push(out);
    leftAt.push(take > 0 ? made.findIndex((cans) => cans >= entered) : null);
  }
  const spans = (cumulative: readonly number[], machineId: number): CountBucketWithRejects[] => Array.from({ length: Math.floor(ticks / spanTicks) }, (_, span) => ({
    machineId, at: span * spanTicks * tick, minutes: (spanTicks * tick) / minute, rejected: 0,
    good: (cumulative[(span + 1) * spanTicks - 1] ?? 0) - (span > 0 ? (cumulative[span * spanTicks - 1] ?? 0) : 0),
  }));
  return { earlier: spans(made, 1), later: spans(counted, 2), leftAt, between: made.map((cans, at) => cans - (taken[at] ?? 0)) };
}

const hour = 720;
// Long enough to empty the table, at separate times, and some short ones of the later machine that fill it.
const emptied: Stop[] = [1, 2.5, 4, 6.2].map((hours) => ({ from: hours * hour, ticks: 180 }));
const filled: Stop[] = [0.6, 1.8, 3.3, 3.6, 5.1, 5.5, 7].map((hours) => ({ from: hours * hour, ticks: 70 }));
const looked = (line: Line, from = 0.5 * hour) => line.leftAt.flatMap((left, at) => (left === null || at < from || at % 37 !== 0 ? [] : [{ left: left * tick, at: at * tick }]));
const walk = ({ earlier, later }: Pick<Line, 'earlier' | 'later'>, at: number, more = {}) => walkBackByCounts({ from: at, until: at + tick }, earlier, later, { ...stretch, ...more });

describe('a stretch that ran dry', () => {
  it('tells how many cans were between, in a third of the time that shortest and longest allow, and never leaves a can out', () => {
    const line = simulate(8 * hour, emptied, filled, 1e9);
    let [width, whole, seen] = [0, 0, 0];
    for (const { left, at } of looked(line)) {
      const told = walk(line, at);
      expect(told.basis).toBe('counts');
      expect(told.from, JSON.stringify({ left, at, told })).toBeLessThanOrEqual(left + tick);
      expect(told.until, JSON.stringify({ left, at, told })).toBeGreaterThanOrEqual(left);
      const between = line.between[at / tick] ?? 0;
      expect(told.because.cansBetween?.least).toBeLessThanOrEqual(between + perTick.later);
      expect(told.because.cansBetween?.most).toBeGreaterThanOrEqual(between - perTick.later);
      [width, whole, seen] = [width + told.until - told.from, whole + 360_000, seen + 1];
    }
    expect(seen).toBeGreaterThan(80);
    expect(width / whole).toBeLessThan(1 / 3);
  });

  it('allows for the least cans that a sensor keeps on the table, and is wider there', () => {
    const keeps = simulate(8 * hour, emptied, filled, 1e9, 12, 600);
    const dry = simulate(8 * hour, emptied, filled, 1e9);
    for (const { left, at } of looked(keeps)) {
      const told = walk(keeps, at, { leastCans: 600 });
      expect(told.from, JSON.stringify({ left, at, told })).toBeLessThanOrEqual(left + tick);
      expect(told.until, JSON.stringify({ left, at, told })).toBeGreaterThanOrEqual(left);
    }
    const mean = (line: Line, leastCans: number | null) => {
      const cans = looked(line).filter((_, index) => index % 3 === 0);
      return cans.reduce((sum, { at }) => { const { from, until } = walk(line, at, { leastCans }); return sum + until - from; }, 0) / cans.length;
    };
    expect(mean(keeps, 600)).toBeGreaterThan(mean(dry, null));
  });

  it('follows cans that leave uncounted, up to one in 500', () => {
    fc.assert(fc.property(fc.integer({ min: 550, max: 20_000 }), fc.array(fc.record({ from: fc.integer({ min: 400, max: 8 * hour }), ticks: fc.integer({ min: 6, max: 150 }) }), { maxLength: 12 }), (loseEvery, more) => {
      const line = simulate(8 * hour, emptied, [...filled, ...more], loseEvery);
      for (const { left, at } of looked(line).filter((_, index) => index % 5 === 0)) {
        const told = walk(line, at);
        expect(told.because.contradictions).toBe(0);
        expect(told.from).toBeLessThanOrEqual(left + tick);
        expect(told.until).toBeGreaterThanOrEqual(left);
      }
    }), { numRuns: 12 });
  });

  it('does not take one lowest level for an empty stretch', () => {
    const line = simulate(3 * hour, emptied.slice(0, 1), filled.slice(0, 2), 1e9);
    const whole = simulate(8 * hour, emptied, filled, 1e9);
    const at = 1.9 * hour * tick;
    const [once, often] = [walk(line, at), walk(whole, at)];
    expect((once.because.cansBetween?.most ?? 0) - (once.because.cansBetween?.least ?? 0)).toBeGreaterThanOrEqual((often.because.cansBetween?.most ?? 0) - (often.because.cansBetween?.least ?? 0));
  });
});

describe('spans that a standing machine leaves out', () => {
  const line = simulate(8 * hour, emptied, filled, 1e9);
  const sparse = { earlier: line.earlier.filter(({ good }) => good > 0), later: line.later.filter(({ good }) => good > 0) };

  it('are taken for standing where the machine never sends a span of zero', () => {
    for (const { left, at } of looked(line).filter((_, index) => index % 6 === 0)) {
      const [told, whole] = [walk(sparse, at), walk(line, at)];
      expect(told.because).toMatchObject({ code: 'counted', contradictions: 0 });
      expect(told.from).toBeLessThanOrEqual(left + tick);
      expect(told.until).toBeGreaterThanOrEqual(left);
      // Fewer ends of spans bound it a little less, no more than that.
      expect(told.until - told.from).toBeLessThan(1.3 * (whole.until - whole.from) + 10_000);
    }
  });

  it('stay unknown where it does, and where the machine is not named', () => {
    const hole = (spans: readonly CountBucketWithRejects[]) => spans.filter(({ at }) => at < 5 * hour * tick || at >= 5.2 * hour * tick);
    const at = 5.1 * hour * tick;
    expect(walk({ earlier: line.earlier, later: hole(line.later) }, at)).toMatchObject({ basis: 'transit', because: { code: 'later-counter-away' } });
    const unnamed = sparse.later.map(({ machineId: _, ...span }) => span);
    expect(walkBackByCounts({ from: at, until: at }, sparse.earlier, unnamed.filter((span) => span.at < 5 * hour * tick || span.at >= 5.2 * hour * tick), stretch).basis).toBe('transit');
  });

  it('are no standing where the other step made more than fits between', () => {
    const away = sparse.later.filter(({ at }) => at < 2 * hour * tick || at >= 2.4 * hour * tick);
    expect(walk({ earlier: sparse.earlier, later: away }, 2.2 * hour * tick)).toMatchObject({ basis: 'transit', because: { code: 'later-counter-away' } });
  });
});
