import { estimateBaseline } from '../charts/estimate-baseline.js';
import type { Panel } from '../charts/panel.js';
import { shewhartChart } from '../charts/shewhart.js';
import { subgroupStatistics } from '../charts/subgroup.js';
import { requireConfidence } from './mean-square.js';
import { straightLine, type Tested, tested } from './straight-line.js';

export type GaugeStability = {
  readonly kind: 'xbar-r' | 'i-mr';
  /** Means with ranges, or individuals with moving ranges; null where the master was always read the same. */
  readonly panels: readonly [Panel, Panel] | null;
  readonly centre: number;
  /** Repeatability within a check (Rbar/d2), or MRbar/d2(2) from check to check; in the unit of the readings. */
  readonly sigma: number;
  /** Mean of the checks less the reference, tested with the spread of the check means; null without a reference. */
  readonly bias: Tested | null;
  /** Change of the reading a check, tested against none; null under three checks. */
  readonly drift: Tested | null;
  /** No point of either panel is beyond its limits; null where there are no limits. */
  readonly stable: boolean | null;
};

/**
 * One master measured again over days or weeks: a control chart of the gauge itself. A point beyond the limits says that
 * the gauge has moved, and what it measured since the last good check is in doubt.
 * Source: NIST/SEMATECH e-Handbook 2.2.2 and 2.2.3, "Statistical control of a measurement process"; chart as
 * shewhartChart, drift by least squares on the number of the check.
 * @param checks readings of each check in time order, null = missing; all of one reading give a chart of individuals
 * @throws RangeError under two usable checks, not finite, or with options out of range
 */
export function gaugeStability(checks: readonly (readonly (number | null)[])[], reference: number | null = null, confidence = 0.95): GaugeStability {
  const caller = 'gaugeStability';
  requireConfidence(confidence, caller);
  if (reference !== null && !Number.isFinite(reference)) throw new RangeError(`${caller}: needs a finite reference or null, ${reference} given`);
  const subgroups = checks.map((check) => subgroupStatistics(check));
  const kind = subgroups.every(({ n }) => n < 2) ? 'i-mr' : 'xbar-r';
  const { centre, sigma } = estimateBaseline(kind, subgroups);
  const panels = sigma > 0 ? shewhartChart(kind, subgroups).panels : null;
  const present = subgroups.flatMap(({ mean }, index) => (mean === null ? [] : [{ mean, index }]));
  const means = present.map(({ mean }) => mean);
  const drift = means.length < 3 ? null : straightLine(present.map(({ index }) => index), means, confidence).slope;
  const spread = subgroupStatistics(means);
  const bias = reference === null || spread.sd === null ? null : tested(subgroupStatistics(means.map((value) => value - reference)).mean ?? 0, spread.sd / Math.sqrt(means.length), means.length - 1, confidence);
  return { kind, panels, centre, sigma, bias, drift, stable: panels?.every(({ out }) => out.length === 0) ?? null };
}
