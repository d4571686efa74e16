import { mean } from '../numeric/mean.js';
import { estimateBaseline } from './estimate-baseline.js';
import { individualsBaseline } from './individuals.js';
import type { Panel } from './panel.js';
import { shewhartChart } from './shewhart.js';
import type { SubgroupStatistics } from './subgroup.js';
import { varies } from './limits-basis.js';

export type BetweenWithinChart = {
  /** Average of the plotted means, each counted once: they are charted as individuals. */
  readonly centre: number;
  /** Sigma of a plotted mean, MRbar/d2(2) of the means. */
  readonly sigmaOfMeans: number;
  /** Sigma of one reading within its subgroup. */
  readonly sigmaWithin: number;
  /** Sigma from subgroup to subgroup with the share of the readings within taken out; 0 where none is left. */
  readonly sigmaBetween: number;
  /** The variance that `sigmaBetween` is the root of, before it is cut at 0: the difference may come out negative. */
  readonly varianceBetween: number;
  /** Sigma of a single reading, between and within together. */
  readonly sigmaTotal: number;
  /** Means as individuals, moving ranges of the means, ranges (or sds) within. */
  readonly panels: readonly [Panel, Panel, Panel];
};

/**
 * Chart of three panels for subgroups whose readings are no sample of what differs from subgroup to subgroup, as
 * points round one can: the means get their limits from their own moving range, not from the spread within.
 *   sigmaBetween^2 = max(0, sigmaOfMeans^2 - sigmaWithin^2 * mean(1/n_i)),  sigmaTotal^2 = sigmaBetween^2 + sigmaWithin^2
 * Source: components of variance as NIST/SEMATECH e-Handbook 3.2.3; limits of the means by moving range as Woodall &
 * Thomas 1995, "Statistical process control with several components of common cause variability", IIE Transactions 27 (from memory).
 * Unit of the readings throughout.
 * @param subgroups in time order; a subgroup without a reading is a gap, one of a single reading has no spread
 * @throws RangeError when fewer than two subgroups have a spread, no two neighbours have a mean, or the means or the readings within do not vary
 */
export function betweenWithinChart(subgroups: readonly SubgroupStatistics[], spread: 'range' | 'sd' = 'range'): BetweenWithinChart {
  const kind = spread === 'range' ? 'xbar-r' : 'xbar-s';
  const within = estimateBaseline(kind, subgroups);
  const between = individualsBaseline(subgroups);
  if (!varies(within.sigma, within.centre)) throw new RangeError('betweenWithinChart: needs readings that differ within subgroups; without them no limits of the spread exist');
  if (!varies(between.sigma, between.centre)) throw new RangeError('betweenWithinChart: needs means that differ from subgroup to subgroup; without them no limits of the means exist');
  const means = shewhartChart('i-mr', subgroups, between);
  const inside = shewhartChart(kind, subgroups, within);
  const share = mean(subgroups.flatMap(({ n }) => (n === 0 ? [] : [1 / n])));
  const varianceBetween = between.sigma ** 2 - within.sigma ** 2 * share;
  if (!Number.isFinite(varianceBetween)) throw new RangeError('betweenWithinChart: needs readings whose squares are within the range of numbers, larger ones given');
  const sigmaBetween = Math.sqrt(Math.max(0, varianceBetween));
  return {
    centre: between.centre, sigmaOfMeans: between.sigma, sigmaWithin: within.sigma, sigmaBetween, varianceBetween,
    sigmaTotal: Math.hypot(sigmaBetween, within.sigma),
    panels: [means.panels[0], means.panels[1], inside.panels[1]],
  };
}
