import { requireFinite, requireNotNegative, requirePositive } from '../require-number.js';
import type { EpochMs, Seconds } from '../units.js';

/** A stretch that cans travel at a known speed, or a table on which they wait their turn. */
export type Segment =
  | { kind: 'path'; metres: number; metresPerSecond: number }
  | { kind: 'waiting'; cans: number; cansPerMinute: number };

/**
 * Transit lag from one step to a later one: sum of path / speed and of cans waiting / throughput (Little's law).
 * @returns seconds
 * @throws RangeError naming the bad input.
 */
export function transitLag(segments: readonly Segment[]): Seconds {
  return segments.reduce((sum, segment) => sum + segmentLag(segment), 0);
}

function segmentLag(segment: Segment): Seconds {
  if (segment.kind === 'path') {
    return requireNotNegative('metres', segment.metres) / requirePositive('metresPerSecond', segment.metresPerSecond);
  }
  return (requireNotNegative('cans', segment.cans) / requirePositive('cansPerMinute', segment.cansPerMinute)) * 60;
}

/** Shortest and longest time a can needs over a stretch: an empty and a full accumulator. */
export type TransitBounds = { shortestSeconds: Seconds; longestSeconds: Seconds };

/**
 * When a can seen at `from..until` downstream can have passed the upstream step. The window only grows on the way
 * back: earliest by the longest transit, latest by the shortest.
 * @throws RangeError naming the bad input.
 */
export function walkBack(
  window: { from: EpochMs; until: EpochMs }, stretches: readonly TransitBounds[],
): { from: EpochMs; until: EpochMs } {
  let from = requireFinite('from', window.from);
  let until = requireFinite('until', window.until);
  if (until < from) throw new RangeError(`until must not be before from ${from}, got ${until}`);
  for (const { shortestSeconds, longestSeconds } of stretches) {
    requireNotNegative('shortestSeconds', shortestSeconds);
    requireNotNegative('longestSeconds', longestSeconds);
    if (longestSeconds < shortestSeconds) {
      throw new RangeError(`longestSeconds must not be below shortestSeconds ${shortestSeconds}, got ${longestSeconds}`);
    }
    from -= longestSeconds * 1000;
    until -= shortestSeconds * 1000;
  }
  return { from, until };
}
