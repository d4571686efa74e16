import { individualsBaseline } from './individuals.js';
import type { ChartKind, LimitsBasis } from './limits-basis.js';
import type { SubgroupStatistics } from './subgroup.js';
import { xbarRBaseline } from './xbar-r.js';
import { xbarSBaseline } from './xbar-s.js';

const BASELINES: Readonly<Record<ChartKind, (subgroups: readonly SubgroupStatistics[]) => LimitsBasis>> = {
  'xbar-r': xbarRBaseline,
  'xbar-s': xbarSBaseline,
  'i-mr': individualsBaseline,
};

/**
 * Centre and sigma of a baseline whose sigma may be 0. For indices, where no variation means "undefined"; limits are
 * made by baselineLimits, which refuses it.
 * @throws RangeError when the baseline is too short for the chart, or its readings are too large to be summed
 */
export function estimateBaseline(kind: ChartKind, subgroups: readonly SubgroupStatistics[]): LimitsBasis {
  return BASELINES[kind](subgroups);
}
