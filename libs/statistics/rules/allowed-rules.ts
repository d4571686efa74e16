import { ALL_RULES } from './run-rules.js';
import type { RuleName } from './verdict.js';

/** What a point on a chart is. */
export type PlottedStatistic = 'mean' | 'median' | 'individual' | 'range' | 'sd' | 'moving-range' | 'p' | 'np' | 'c' | 'u' | 'ewma' | 'moving-average';

const MEAN_LIKE: readonly PlottedStatistic[] = ['mean', 'median', 'individual'];

/**
 * The rules that may be asked of a statistic. Runs and zones are calibrated for points that are independent and roughly
 * symmetric about the centre line: means, medians, individuals. Ranges, sds and counts are skewed; moving ranges, EWMA
 * and moving averages share readings from point to point, so that runs are expected of them. On these only a point
 * beyond the limits counts, unless somebody opts in who knows that the other rules then alarm falsely more often.
 * Source: Montgomery, Introduction to Statistical Quality Control, ch. 6, on runs of moving ranges; for the others common
 * practice, no source.
 */
export function allowedRules(statistic: PlottedStatistic, optIn = false): readonly RuleName[] {
  return optIn || MEAN_LIKE.includes(statistic) ? ALL_RULES : ['beyond-limits'];
}
