import { movingRanges } from './individuals.js';
import { baselineLimits, type ChartKind, type LimitsBasis, limitsForSize } from './limits.js';
import { NO_LINES, type Panel, panelOf } from './panel.js';
import type { SubgroupStatistics } from './subgroup.js';

export type ShewhartChart = { readonly basis: LimitsBasis; readonly panels: readonly [Panel, Panel] };

const SPREAD_OF = { 'xbar-r': 'range', 'xbar-s': 'sd', 'i-mr': 'moving-range' } as const;

/**
 * Both panels of a chart of means with ranges or sds, or of individuals with moving ranges.
 * @param subgroups in time order, of any size; one without a reading is a gap
 * @param basis frozen limits; estimated from these subgroups where left out
 * Sources: as limitsForSize and baselineLimits. The lines of a spread are D3, d2, D4 (B3, c4, B4) of its own n times
 * sigma; its `sigma` is d3 (or sqrt(1-c4^2)) times sigma, a third of the way from the centre to the upper limit.
 * @throws RangeError when the baseline is too short or does not vary, or a number is beyond the range of numbers
 */
export function shewhartChart(kind: ChartKind, subgroups: readonly SubgroupStatistics[], basis: LimitsBasis = baselineLimits(kind, subgroups)): ShewhartChart {
  const caller = `shewhartChart (${kind})`;
  // Equal sizes are the rule; their limits are made once.
  const known = new Map<number, ReturnType<typeof limitsForSize>>();
  const limitsOf = (n: number): ReturnType<typeof limitsForSize> => {
    const limits = known.get(n) ?? limitsForSize(basis, n);
    known.set(n, limits);
    return limits;
  };
  const sizeAt = (index: number): number => subgroups[index]?.n ?? 0;
  const means = subgroups.map((subgroup) => subgroup.mean);
  const location = panelOf(caller, kind === 'i-mr' ? 'individual' : 'mean', means, (index) => (sizeAt(index) === 0 ? NO_LINES : limitsOf(sizeAt(index)).mean));
  const spreads = kind === 'i-mr' ? movingRanges(means) : subgroups.map(({ range, sd }) => (kind === 'xbar-r' ? range : sd));
  const spread = panelOf(caller, SPREAD_OF[kind], spreads, (index) => {
    const limits = sizeAt(index) === 0 ? null : limitsOf(sizeAt(index)).spread;
    return limits === null ? NO_LINES : { ...limits, sigma: (limits.upper - limits.centre) / 3 };
  });
  return { basis, panels: [location, spread] };
}
