import { estimateBaseline } from '../charts/estimate-baseline.js';
import { varies } from '../charts/limits-basis.js';
import type { ChartKind } from '../charts/limits.js';
import { type SubgroupStatistics, subgroupStatistics } from '../charts/subgroup.js';
import { normalUpperTail } from '../distributions/normal.js';
import { mean as meanOf } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { type Interval, locationIndexInterval, locationIndexLowerBound, spreadIndexInterval } from './intervals.js';
import { withinFreedom } from './within-freedom.js';

export type CapabilityInput = {
  /** Charted members of each subgroup in time order; null = missing. */
  readonly members: readonly (readonly (number | null)[])[];
  /** How the chart of this stream estimates sigma within. */
  readonly kind: ChartKind;
  readonly lsl: number | null;
  readonly usl: number | null;
  readonly target: number | null;
  /** Of the intervals (two-sided) and of the lower bound (one-sided); 0.95 unless said otherwise. */
  readonly confidence?: number;
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
  readonly intervals: { readonly cp: Interval | null; readonly cpk: Interval | null; readonly pp: Interval | null; readonly ppk: Interval | null };
  readonly ppkLowerBound: number | null;
  readonly expectedPpm: { readonly within: ExpectedPpm; readonly overall: ExpectedPpm };
};

/**
 * Capability of a normal characteristic against its specification. All indices are without unit; null = undefined,
 * never NaN or infinity. Cp, Cpk, expected ppm "within" take sigma within subgroups as the control chart estimates it;
 * Pp, Ppk, Cpm take the sd of all readings, divisor n-1. Cp, Pp need both limits; Cpk, Ppk take the nearer existing
 * side and are negative when the mean is outside. Cpm = (USL-LSL) / (6 sqrt(s^2 + (mean-target)^2)).
 * Intervals: nu = n-1 for the overall sd; for sigma within the effective degrees of freedom of withinFreedom (Patnaik
 * 1950). They assume a stable, normal, independent stream; whether it is that, the chart says and not these figures.
 * Source: Montgomery, Introduction to Statistical Quality Control, "Process capability ratios"; Kane 1986,
 * "Process capability indices", Journal of Quality Technology 18(1); Chan, Cheng & Spiring 1988 for Cpm.
 * @throws RangeError without a limit, with limits in the wrong order, a confidence outside 0 to 1, or under two members
 */
export function capability(input: CapabilityInput): Capability {
  const { kind, lsl, usl, target, confidence = 0.95 } = input;
  requireSpecification(lsl, usl, target, confidence);
  const statistics = input.members.map(subgroupStatistics);
  const all = input.members.flat().filter((member) => member !== null);
  const n = all.length;
  if (n < 2) throw new RangeError(`capability: needs at least 2 members, ${n} given`);
  const mean = meanOf(all);
  const sd = standardDeviation(all);
  const sdOverall = varies(sd, mean) ? sd : null;
  const within = sigmaWithin(kind, statistics);
  const short = indices(mean, within.sigma, lsl, usl);
  const long = indices(mean, sdOverall, lsl, usl);
  const nuWithin = within.nu;
  const nuOverall = n - 1;
  const offTarget = target === null || sdOverall === null ? null : Math.hypot(sdOverall, mean - target);

  return {
    n,
    subgroups: statistics.filter((subgroup) => subgroup.n > 0).length,
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
    cpm: lsl === null || usl === null || offTarget === null ? null : (usl - lsl) / (6 * offTarget),
    confidence,
    intervals: {
      cp: short.both === null || nuWithin === null ? null : spreadIndexInterval(short.both, nuWithin, confidence),
      cpk: short.nearer === null || nuWithin === null ? null : locationIndexInterval(short.nearer, n, nuWithin, confidence),
      pp: long.both === null ? null : spreadIndexInterval(long.both, nuOverall, confidence),
      ppk: long.nearer === null ? null : locationIndexInterval(long.nearer, n, nuOverall, confidence),
    },
    ppkLowerBound: long.nearer === null ? null : locationIndexLowerBound(long.nearer, n, nuOverall, confidence),
    expectedPpm: { within: expectedPpm(short), overall: expectedPpm(long) },
  };
}

type Indices = { readonly both: number | null; readonly lower: number | null; readonly upper: number | null; readonly nearer: number | null };

function indices(mean: number, sigma: number | null, lsl: number | null, usl: number | null): Indices {
  if (sigma === null) return { both: null, lower: null, upper: null, nearer: null };
  const lower = lsl === null ? null : (mean - lsl) / (3 * sigma);
  const upper = usl === null ? null : (usl - mean) / (3 * sigma);
  const both = lsl === null || usl === null ? null : (usl - lsl) / (6 * sigma);
  return { both, lower, upper, nearer: lower === null || upper === null ? (lower ?? upper) : Math.min(lower, upper) };
}

function expectedPpm({ lower, upper }: Indices): ExpectedPpm {
  return { below: lower === null ? null : 1e6 * normalUpperTail(3 * lower), above: upper === null ? null : 1e6 * normalUpperTail(3 * upper) };
}

function sigmaWithin(kind: ChartKind, subgroups: readonly SubgroupStatistics[]): { sigma: number | null; nu: number | null; gap: WithinGap | null } {
  const none = (gap: WithinGap) => ({ sigma: null, nu: null, gap });
  const individuals = kind === 'i-mr';
  // The sigma of a plotted mean is not that of a member, so an index from it would flatter.
  if (individuals && subgroups.some((subgroup) => subgroup.n > 1)) return none('several-members-an-individual');
  const sizes = individuals ? unbrokenStretches(subgroups) : subgroups.map((subgroup) => subgroup.n).filter((n) => n >= 2);
  if (sizes.length < (individuals ? 1 : 2)) return none('too-few-subgroups');
  const { sigma, centre } = estimateBaseline(kind, subgroups);
  return varies(sigma, centre) ? { sigma, nu: withinFreedom(kind, sizes), gap: null } : none('no-variation');
}

/** Lengths of the runs of individuals without a gap between them; a single one has no moving range and is left out. */
function unbrokenStretches(subgroups: readonly SubgroupStatistics[]): number[] {
  const lengths = [0];
  for (const { n } of subgroups) {
    if (n === 0) lengths.push(0);
    else lengths.push((lengths.pop() ?? 0) + 1);
  }
  return lengths.filter((length) => length >= 2);
}

function requireSpecification(lsl: number | null, usl: number | null, target: number | null, confidence: number): void {
  for (const [name, value] of [['lower specification limit', lsl], ['upper specification limit', usl], ['target', target]] as const) {
    if (value !== null && !Number.isFinite(value)) throw new RangeError(`capability: the ${name} is ${value}, a finite number or null is expected`);
  }
  if (lsl === null && usl === null) throw new RangeError('capability: needs at least one specification limit, none given');
  if (lsl !== null && usl !== null && !(lsl < usl)) throw new RangeError(`capability: the lower specification limit ${lsl} is expected below the upper one ${usl}`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`capability: needs a confidence strictly between 0 and 1, ${confidence} given`);
}
