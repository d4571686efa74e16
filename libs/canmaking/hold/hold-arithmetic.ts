import { type CountBucket, cansFromCounts } from '../line/cans-at-risk.js';
import { type TransitBounds, walkBack } from '../line/transit.js';
import { requireFinite } from '../require-number.js';
import type { EpochMs } from '../units.js';

const minute = 60_000;

export type HoldSpan = { readonly from: EpochMs; readonly until: EpochMs };
/** A pallet with the time in which its cans came off; null where only its code is known. */
export type PalletSpan = { readonly code: string; readonly span: HoldSpan | null };

export type HoldQuestion = {
  /** From the last known good to the next known good (or the stop, or now), where it was sampled. */
  readonly span: HoldSpan;
  /** One list for each machine of that step; empty = nothing is counted there. */
  readonly counts: readonly { readonly machineId: number; readonly buckets: readonly CountBucket[] }[];
  /** Of how many equal units and lanes one is suspect; 1 = all. */
  readonly units: number;
  readonly lanes: number;
  /** From the suspect step to where it was sampled, and from there to the palletizer. */
  readonly back: TransitBounds;
  readonly forward: TransitBounds;
  readonly pallets: readonly PalletSpan[];
};

export type HoldAnswer = {
  readonly minutes: number;
  /** When the suspect cans were at the suspect step. */
  readonly atFault: HoldSpan;
  /** When they reached the palletizer: every pallet that this touches is held whole. */
  readonly atPallets: HoldSpan;
  readonly counted: readonly { readonly machineId: number; readonly cans: number; readonly uncoveredMinutes: number }[];
  readonly cans: { readonly counted: number; readonly shareOf: number; readonly suspect: number } | null;
  readonly pallets: { readonly listed: number; readonly withoutSpan: number; readonly outside: readonly string[]; readonly gapMinutes: number };
};

/**
 * Which cans and pallets a hold covers: counts of the span (touched counts whole), one of the equal shares where only one head
 * or lane is suspect (rounded up), and the span moved to the suspect step and to the palletizer by shortest and longest transit,
 * so that it only grows. Pallets are held whole, whatever the share: heads and lanes are mixed on them.
 * Arithmetic, no source; equal shares are an assumption.
 * @throws RangeError naming the bad input
 */
export function holdArithmetic({ span, counts, units, lanes, back, forward, pallets }: HoldQuestion): HoldAnswer {
  if (!(requireFinite('until', span.until) > requireFinite('from', span.from))) throw new RangeError(`until: needs a moment after from ${span.from}, ${span.until} given`);
  for (const [name, share] of [['units', units], ['lanes', lanes]] as const) if (!(Number.isInteger(share) && share >= 1)) throw new RangeError(`${name}: needs a whole number of shares, 1 or more, ${share} given`);
  const atPallets = walkOn(span, forward);
  const counted = counts.map(({ machineId, buckets }) => ({ machineId, ...cansFromCounts(buckets, span.from, span.until) }));
  const total = counted.reduce((sum, { cans }) => sum + cans, 0);
  const shareOf = units * lanes;
  const known = pallets.flatMap(({ span: own }) => (own === null ? [] : [own]));
  return {
    minutes: (span.until - span.from) / minute, atFault: walkBack(span, [back]), atPallets, counted,
    cans: counts.every(({ buckets }) => buckets.length === 0) ? null : { counted: total, shareOf, suspect: Math.ceil(total / shareOf) },
    pallets: {
      listed: pallets.length, withoutSpan: pallets.length - known.length,
      outside: pallets.filter(({ span: own }) => own !== null && (own.until <= atPallets.from || own.from >= atPallets.until)).map(({ code }) => code),
      gapMinutes: uncovered(atPallets, known) / minute,
    },
  };
}

/** The way to a later step: earliest by the shortest transit, latest by the longest. */
function walkOn(span: HoldSpan, { shortestSeconds, longestSeconds }: TransitBounds): HoldSpan {
  if (!(shortestSeconds >= 0 && longestSeconds >= shortestSeconds && Number.isFinite(longestSeconds))) throw new RangeError(`forward: needs 0 <= shortestSeconds <= longestSeconds, ${shortestSeconds} and ${longestSeconds} given`);
  return { from: span.from + shortestSeconds * 1000, until: span.until + longestSeconds * 1000 };
}

/** Milliseconds of the span that none of the pieces covers. */
function uncovered(span: HoldSpan, pieces: readonly HoldSpan[]): number {
  let reached = span.from;
  let gap = 0;
  for (const { from, until } of [...pieces].sort((a, b) => a.from - b.from)) {
    if (until <= reached) continue;
    gap += Math.max(0, Math.min(from, span.until) - reached);
    reached = Math.min(until, span.until);
    if (reached >= span.until) return gap;
  }
  return gap + span.until - reached;
}
