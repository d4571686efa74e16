import type { EpochMs } from '../units.js';
import { countedBefore, type CountCurve } from './count-curve.js';

/** Bounds of the offset at the end of a span, see `Frame`. */
export type Bound = { at: EpochMs; low: number; high: number };

/** So often, at separate times, must the lowest level come back before it is taken for an empty stretch. */
export const DRY_TIMES = 3;
// A starved machine goes on when a few cans have gathered: that many minutes of full speed, besides two cans.
const gatheredMinutes = 0.15;
// Below nine tenths of its full speed a machine stood or waited in the span.
const slow = 0.9;

/**
 * Tightens bounds by the moments at which the stretch ran dry. The difference of the two counts has a lowest level: that of
 * an empty stretch, if it ever was empty. It was if the difference comes back to that same level at least three separate times
 * while the later step stands or is slow: a machine with cans before it would run. At those moments the cans between are only
 * the ones that still travel, a few that gather, and the least cans where a sensor keeps some on the table: a stretch that
 * keeps some and states none is taken for emptier than it is.
 * @param lows the highest offset below which no moment allows it, at each bound: what all of the records say together
 * @returns the bounds, with `high` set down at dry moments
 */
export function boundedByDryMoments(bounds: readonly Bound[], lows: readonly number[], earlier: CountCurve, later: CountCurve, { shortestSeconds, leastCans }: { shortestSeconds: number; leastCans: number | null }): Bound[] {
  const gathered = gatheredMinutes * Math.min(earlier.peakPerMinute, later.peakPerMinute) + 2;
  const dry: number[] = [];
  let [times, filled] = [0, true];
  bounds.forEach(({ at, low }, index) => {
    const above = (lows[index] ?? 0) - low;
    if (above > 3 * gathered) filled = true;
    if (above > gathered || !waits(at, bounds[index - 1]?.at, later)) return;
    dry.push(index);
    if (filled) times += 1;
    filled = false;
  });
  if (times < DRY_TIMES) return [...bounds];
  const tightened = [...bounds];
  for (const index of dry) {
    const bound = bounds[index] as Bound;
    tightened[index] = { ...bound, high: Math.min(bound.high, bound.low + gathered + (leastCans ?? 0) + Math.max(0, travelling(bound.at, earlier, shortestSeconds))) };
  }
  return tightened;
}

function waits(at: EpochMs, before: EpochMs | undefined, later: CountCurve): boolean {
  if (before === undefined) return false;
  return countedBefore(later, at).most - countedBefore(later, before).least < (slow * later.peakPerMinute * (at - before)) / 60_000;
}

// The shortest time is stated low, and a starved line is not at its fastest: what may travel longer than that.
function travelling(at: EpochMs, earlier: CountCurve, shortestSeconds: number): number {
  const longer = 1.25 * shortestSeconds + 30;
  return countedBefore(earlier, at - shortestSeconds * 1000).most - countedBefore(earlier, at - longer * 1000).least;
}
