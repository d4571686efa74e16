import { estimateBaseline } from '../charts/estimate-baseline.js';
import { varies } from '../charts/limits-basis.js';
import type { ChartKind } from '../charts/limits.js';
import { type SubgroupStatistics, subgroupStatistics } from '../charts/subgroup.js';
import { mean as meanOf } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { type Capability, capabilityFigures, type Moments, requireSpecification, type WithinGap } from './figures.js';
import { refuseClosedScale, type Scale } from './scale.js';
import { withinFreedom } from './within-freedom.js';

export type { Capability, ExpectedPpm, WithinGap } from './figures.js';

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
  /** What the characteristic is measured on; a bounded or ordinal one has no index. 'open' unless said otherwise. */
  readonly scale?: Scale;
};

/**
 * Capability of a normal characteristic against its specification. All indices are without unit; null = undefined,
 * never NaN or infinity. Cp, Cpk, expected ppm "within" take sigma within subgroups as the control chart estimates it;
 * Pp, Ppk, Cpm take the sd of all readings, divisor n-1. Cp, Pp need both limits; Cpk, Ppk take the nearer existing
 * side and are negative when the mean is outside. Cpm = (USL-LSL) / (6 sqrt(s^2 + (mean-target)^2)).
 * Interval of Cpm after Boyles 1991 (see target-index.ts).
 * Intervals: nu = n-1 for the overall sd; for sigma within the effective degrees of freedom of withinFreedom (Patnaik
 * 1950). They assume a stable, normal, independent stream; whether it is that, the chart says and not these figures.
 * Source: Montgomery, Introduction to Statistical Quality Control, "Process capability ratios"; Kane 1986,
 * "Process capability indices", Journal of Quality Technology 18(1); Chan, Cheng & Spiring 1988 for Cpm.
 * @throws RangeError without a limit, with limits in the wrong order, a confidence outside 0 to 1, on a
 *   bounded or ordinal scale, or under two members
 */
export function capability(input: CapabilityInput): Capability {
  const { kind, confidence = 0.95, scale = 'open' } = input;
  refuseClosedScale(scale, 'capability');
  requireSpecification(input, confidence);
  const statistics = input.members.map(subgroupStatistics);
  const all = input.members.flat().filter((member) => member !== null);
  const n = all.length;
  if (n < 2) throw new RangeError(`capability: needs at least 2 members, ${n} given`);
  const mean = meanOf(all);
  const subgroups = statistics.filter((subgroup) => subgroup.n > 0).length;
  return capabilityFigures({ n, subgroups, mean, sdOverall: overallSd(all, mean), within: sigmaWithin(kind, statistics) }, input, confidence);
}

/** The sd of all readings, null where it is no more than rounding. @throws RangeError when it is beyond the range of numbers */
export function overallSd(values: ArrayLike<number>, mean: number): number | null {
  const sd = standardDeviation(values, 'capability');
  return varies(sd, mean) ? sd : null;
}

function sigmaWithin(kind: ChartKind, subgroups: readonly SubgroupStatistics[]): Moments['within'] {
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
