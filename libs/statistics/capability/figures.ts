import { normalUpperTail } from '../distributions/normal.js';
import { type Interval, LARGEST_INDEX, locationIndexInterval, locationIndexLowerBound, spreadIndexInterval } from './intervals.js';
import { targetIndexInterval, targetIndexLowerBound } from './target-index.js';

export type Specification = { readonly lsl: number | null; readonly usl: number | null; readonly target: number | null };

/** What capability is computed from; all but the counts in the unit of the readings. */
export type Moments = {
  readonly n: number;
  readonly subgroups: number;
  readonly mean: number;
  readonly sdOverall: number | null;
  readonly within: { readonly sigma: number | null; readonly nu: number | null; readonly gap: WithinGap | null };
};

/** Why there is no sigma within: nothing varied, too few subgroups, or individuals that are means of several members. */
export type WithinGap = 'no-variation' | 'too-few-subgroups' | 'several-members-an-individual';

/** Expected parts per million outside each limit for a normal characteristic; null where there is no such limit. */
export type ExpectedPpm = { readonly below: number | null; readonly above: number | null };

export type Capability = {
  readonly n: number;
  /** Subgroups with at least one member. */
  readonly subgroups: number;
  readonly mean: number;
  readonly sdWithin: number | null;
  readonly withinGap: WithinGap | null;
  /** Effective degrees of freedom of sdWithin. */
  readonly nuWithin: number | null;
  readonly sdOverall: number | null;
  readonly cp: number | null;
  readonly cpk: number | null;
  readonly cpu: number | null;
  readonly cpl: number | null;
  readonly pp: number | null;
  readonly ppk: number | null;
  readonly ppu: number | null;
  readonly ppl: number | null;
  readonly cpm: number | null;
  readonly confidence: number;
  readonly intervals: { readonly cp: Interval | null; readonly cpk: Interval | null; readonly pp: Interval | null; readonly ppk: Interval | null; readonly cpm: Interval | null };
  readonly ppkLowerBound: number | null;
  readonly cpmLowerBound: number | null;
  readonly expectedPpm: { readonly within: ExpectedPpm; readonly overall: ExpectedPpm };
};

/** All figures of capability() from the moments, which may come from readings in any arrangement. @throws RangeError when an index is beyond the range of numbers */
export function capabilityFigures(moments: Moments, specification: Specification, confidence: number): Capability {
  const { n, subgroups, mean, sdOverall, within } = moments;
  const { lsl, usl, target } = specification;
  for (const value of [n, subgroups, mean, sdOverall, within.sigma, within.nu]) {
    if (value !== null && !Number.isFinite(value)) throw new RangeError(`capability: needs finite moments, ${value} given`);
  }
  const short = indices(mean, within.sigma, lsl, usl);
  const long = indices(mean, sdOverall, lsl, usl);
  const nuWithin = within.nu;
  const nuOverall = n - 1;
  const spread = target === null || sdOverall === null || lsl === null || usl === null ? null : { width: usl - lsl, sd: sdOverall, offset: mean - target, n };

  return {
    n,
    subgroups,
    mean,
    sdWithin: within.sigma,
    withinGap: within.gap,
    nuWithin,
    sdOverall,
    cp: short.both,
    cpk: short.nearer,
    cpu: short.upper,
    cpl: short.lower,
    pp: long.both,
    ppk: long.nearer,
    ppu: long.upper,
    ppl: long.lower,
    cpm: spread === null ? null : quotient(spread.width, 6 * Math.hypot(spread.sd, spread.offset)),
    confidence,
    intervals: {
      cp: short.both === null || nuWithin === null ? null : spreadIndexInterval(short.both, nuWithin, confidence),
      cpk: short.nearer === null || nuWithin === null ? null : locationIndexInterval(short.nearer, n, nuWithin, confidence),
      pp: long.both === null ? null : spreadIndexInterval(long.both, nuOverall, confidence),
      ppk: long.nearer === null ? null : locationIndexInterval(long.nearer, n, nuOverall, confidence),
      cpm: spread === null ? null : targetIndexInterval(spread, confidence),
    },
    ppkLowerBound: long.nearer === null ? null : locationIndexLowerBound(long.nearer, n, nuOverall, confidence),
    cpmLowerBound: spread === null ? null : targetIndexLowerBound(spread, confidence),
    expectedPpm: { within: expectedPpm(short), overall: expectedPpm(long) },
  };
}

type Indices = { readonly both: number | null; readonly lower: number | null; readonly upper: number | null; readonly nearer: number | null };

function indices(mean: number, sigma: number | null, lsl: number | null, usl: number | null): Indices {
  if (sigma === null) return { both: null, lower: null, upper: null, nearer: null };
  const lower = lsl === null ? null : quotient(mean - lsl, 3 * sigma);
  const upper = usl === null ? null : quotient(usl - mean, 3 * sigma);
  const both = lsl === null || usl === null ? null : quotient(usl - lsl, 6 * sigma);
  return { both, lower, upper, nearer: lower === null || upper === null ? (lower ?? upper) : Math.min(lower, upper) };
}

function quotient(distance: number, sigmas: number): number {
  const index = distance / sigmas;
  if (!(Math.abs(index) <= LARGEST_INDEX)) throw new RangeError(`capability: needs limits and readings of like size, an index beyond ${LARGEST_INDEX} results from those given`);
  return index;
}

function expectedPpm({ lower, upper }: Indices): ExpectedPpm {
  return { below: lower === null ? null : 1e6 * normalUpperTail(3 * lower), above: upper === null ? null : 1e6 * normalUpperTail(3 * upper) };
}

/** @throws RangeError without a limit, with limits in the wrong order, or a confidence outside 0 to 1 */
export function requireSpecification({ lsl, usl, target }: Specification, confidence: number): void {
  for (const [name, value] of [['lower specification limit', lsl], ['upper specification limit', usl], ['target', target]] as const) {
    if (value !== null && !Number.isFinite(value)) throw new RangeError(`capability: the ${name} is ${value}, a finite number or null is expected`);
  }
  if (lsl === null && usl === null) throw new RangeError('capability: needs at least one specification limit, none given');
  if (lsl !== null && usl !== null && !(lsl < usl)) throw new RangeError(`capability: the lower specification limit ${lsl} is expected below the upper one ${usl}`);
  if (lsl !== null && usl !== null && !Number.isFinite(usl - lsl)) throw new RangeError('capability: needs limits whose difference is within the range of numbers, wider ones given');
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`capability: needs a confidence strictly between 0 and 1, ${confidence} given`);
}
