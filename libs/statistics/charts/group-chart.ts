import type { Side } from '../rules/verdict.js';
import { mean } from '../numeric/mean.js';
import { chartConstants } from './constants.js';
import { type ExtremeRunRule, extremeRuns, type ExtremeRun, runRuleFor } from './extreme-runs.js';
import { movingRanges } from './individuals.js';
import { varies, weightedCentre } from './limits-basis.js';
import { NO_LINES, type Panel, panelOf, sideOf, symmetricLines } from './panel.js';
import { type SubgroupStatistics, subgroupStatistics } from './subgroup.js';
import { xbarRBaseline } from './xbar-r.js';
import { xbarSBaseline } from './xbar-s.js';

export type GroupChart = {
  /** Average of all readings of all heads, and sigma of one reading within a head. */
  readonly centre: number;
  readonly sigma: number;
  /** What sigma rests on: ranges or sds within the samples of a head, or moving ranges of the single readings of a head. */
  readonly sigmaFrom: 'range' | 'sd' | 'moving-range';
  /** Heads whose mean is the highest and the lowest of a check (0-based; more than one when tied; none at a gap). */
  readonly highest: readonly (readonly number[])[];
  readonly lowest: readonly (readonly number[])[];
  /** Every head beyond the limits of its own sample, also where another one is further out. */
  readonly beyond: readonly { readonly index: number; readonly head: number; readonly side: Side }[];
  readonly rule: ExtremeRunRule;
  readonly runs: readonly ExtremeRun[];
  readonly panels: readonly [Panel, Panel];
};

/**
 * Group chart of a machine with many heads: at each check only the highest and the lowest head mean are plotted, and
 * named; if neither is beyond the limits, no head is. Limits are centre +- 3 sigma/sqrt(n) with n the readings of
 * the plotted head and sigma pooled within heads, so that a difference between heads does not widen them.
 * The limits are those of one head: of s heads that are alike the chance that one is out at a check is 1-(1-0.0027)^s.
 * A head that is the extreme again and again is found by the run test (extremeRuns).
 * Source: Montgomery, Introduction to Statistical Quality Control, "Group control charts for multiple-stream processes"
 * (from memory); Nelson 1986, "Control chart for multiple stream processes", Journal of Quality Technology 18; Mortell &
 * Runger 1995, "Statistical process control of multiple stream processes", Journal of Quality Technology 27.
 * @param checks check after check: for each head (always in the same order) its readings, null = missing, all in one unit
 * @param run how many times in a row the same head is the highest (or lowest) before it signals; see runRuleFor
 * @throws RangeError when there are fewer than two heads, checks have unequal numbers of heads, or sigma cannot be had or is 0
 */
export function groupChart(checks: readonly (readonly (readonly (number | null)[])[])[], spread: 'range' | 'sd' = 'range', run?: number): GroupChart {
  const heads = checks[0]?.length ?? 0;
  if (heads < 2) throw new RangeError(`groupChart: needs at least 1 check of 2 or more heads, ${checks.length} checks of ${heads} heads given`);
  const wrong = checks.findIndex((check) => check.length !== heads);
  if (wrong >= 0) throw new RangeError(`groupChart: needs as many heads at every check, check ${wrong + 1} has ${checks[wrong]?.length} where check 1 has ${heads}`);
  const rule = runRuleFor(heads, run);

  const statistics = checks.map((check) => check.map((readings) => subgroupStatistics(readings)));
  const present = statistics.flat().flatMap(({ n, mean: value }) => (value === null ? [] : [{ n, mean: value }]));
  if (present.length === 0) throw new RangeError('groupChart: needs at least 1 reading, 0 given');
  const { centre } = weightedCentre(present);
  const { sigma, sigmaFrom } = sigmaOf(statistics, heads, spread);
  if (!varies(sigma, centre)) throw new RangeError('groupChart: needs readings that differ within heads; without them no limits exist');

  const highest = statistics.map((check) => extremes(check, Math.max));
  const lowest = statistics.map((check) => extremes(check, Math.min));
  const beyond = statistics.flatMap((check, index) => check.flatMap(({ n, mean: value }, head) => {
    const side = value === null ? null : sideOf(value, symmetricLines(centre, sigma / Math.sqrt(n)));
    return side === null ? [] : [{ index, head, side }];
  }));
  const panelFor = (statistic: 'highest' | 'lowest', named: readonly (readonly number[])[]): Panel => {
    const plotted = statistics.map((check, index) => check[named[index]?.[0] ?? -1] ?? null);
    return panelOf('groupChart', statistic, plotted.map((head) => head?.mean ?? null), (index) => {
      const n = plotted[index]?.n ?? 0;
      return n === 0 ? NO_LINES : symmetricLines(centre, sigma / Math.sqrt(n));
    });
  };
  const runs = [...extremeRuns(highest, 'above', rule.run), ...extremeRuns(lowest, 'below', rule.run)].sort((a, b) => a.index - b.index);
  return { centre, sigma, sigmaFrom, highest, lowest, beyond, rule, runs, panels: [panelFor('highest', highest), panelFor('lowest', lowest)] };
}

/** Heads whose mean is the extreme; none unless two heads can be compared. */
function extremes(check: readonly SubgroupStatistics[], pick: (a: number, b: number) => number): number[] {
  const means = check.map((head) => head.mean);
  const present = means.filter((value) => value !== null);
  if (present.length < 2) return [];
  const extreme = present.reduce((a, b) => pick(a, b));
  return means.flatMap((value, head) => (value === extreme ? [head] : []));
}

function sigmaOf(statistics: readonly (readonly SubgroupStatistics[])[], heads: number, spread: 'range' | 'sd'): Pick<GroupChart, 'sigma' | 'sigmaFrom'> {
  if (statistics.some((check) => check.some(({ n }) => n > 1))) {
    const samples = statistics.flat();
    return { sigma: (spread === 'range' ? xbarRBaseline : xbarSBaseline)(samples).sigma, sigmaFrom: spread };
  }
  const ranges = Array.from({ length: heads }, (_, head) => movingRanges(statistics.map((check) => check[head]?.mean ?? null))).flat().filter((range) => range !== null);
  if (ranges.length === 0) throw new RangeError('groupChart: needs two or more readings of a head at a check, or one at two checks in a row, neither given');
  return { sigma: mean(ranges) / chartConstants(2).d2, sigmaFrom: 'moving-range' };
}
