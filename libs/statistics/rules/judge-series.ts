import { type LimitsBasis, limitsForSize, type SubgroupLimits } from '../charts/limits.js';
import { runRules } from './run-rules.js';
import { BEYOND_TOLERANCE, type Firing, type RuleName, type Side } from './verdict.js';

/** One plotted subgroup, in time order, with the frozen limits that hold for it. */
export type SeriesPoint = {
  readonly n: number;
  readonly mean: number | null;
  /** Range or sd, by the kind of chart; ignored for individuals, whose moving range is computed here. */
  readonly spread: number | null;
  readonly limits: LimitsBasis | null;
  /** True where what came before says nothing about what follows: new phase, changed tooling. */
  readonly breakBefore?: boolean;
};

/** The verdict on one point. Steady is said only of a point that has a mean and limits and was compared with them. */
export type JudgedPoint = {
  readonly status: 'steady' | 'signal' | 'not-judged';
  readonly z: number | null;
  /** Whether the spread is outside its own limits, also when no rule was asked to say so. */
  readonly spreadBeyond: boolean;
  readonly firings: readonly (Firing & { readonly chart: 'mean' | 'spread' })[];
};

/**
 * Judges a series against its frozen limits, one verdict a point.
 * Windows of the rules are emptied by a missing mean, by `breakBefore`, and wherever the limits are another object
 * than before (compared by identity: equal numbers frozen twice are still two phases). The spread chart takes rule 1
 * only. A moving range (individuals) is taken between neighbours that no such break separates.
 * @throws RangeError when a mean or spread is NaN or infinite or frozen limits are unusable (1-based position is named)
 */
export function judgeSeries(points: readonly SeriesPoint[], rules: readonly RuleName[]): JudgedPoint[] {
  const judge = runRules(rules);
  const ruleOne = rules.includes('beyond-limits');
  let limitsBefore: LimitsBasis | null = null;
  let meanBefore: number | null = null;

  return points.map((point, index) => {
    const { limits, mean } = point;
    requireFiniteOrNull(mean, 'mean', index);
    requireFiniteOrNull(point.spread, 'spread', index);
    if (point.breakBefore === true || limits !== limitsBefore) {
      judge(null, index);
      meanBefore = null;
    }
    limitsBefore = limits;
    if (limits === null || mean === null) {
      judge(null, index);
      meanBefore = null;
      return { status: 'not-judged', z: null, spreadBeyond: false, firings: [] };
    }

    const own = limitsForSize(limits, point.n);
    const z = (mean - own.mean.centre) / own.mean.sigma;
    const individuals = limits.kind === 'i-mr';
    const movingRange = meanBefore === null ? null : Math.abs(mean - meanBefore);
    const side = beyondSpread(individuals ? movingRange : point.spread, own.spread);
    meanBefore = mean;

    const firings: JudgedPoint['firings'] = [
      ...judge(z, index).map((firing) => ({ ...firing, chart: 'mean' as const })),
      ...(side !== null && ruleOne
        ? [{ index, rule: 'beyond-limits' as const, side, firstIndex: individuals ? index - 1 : index, chart: 'spread' as const }]
        : []),
    ];
    return { status: firings.length === 0 ? 'steady' : 'signal', z, spreadBeyond: side !== null, firings };
  });
}

/** Null when within, or when there is nothing to compare. The tolerance is that of z: one third of limit less centre is one sigma. */
function beyondSpread(spread: number | null, limits: SubgroupLimits['spread']): Side | null {
  if (spread === null || limits === null) return null;
  const slack = (BEYOND_TOLERANCE * (limits.upper - limits.centre)) / 3;
  if (spread > limits.upper + slack) return 'above';
  return spread < limits.lower - slack ? 'below' : null;
}

function requireFiniteOrNull(value: number | null, what: string, index: number): void {
  if (value !== null && !Number.isFinite(value)) {
    throw new RangeError(`judgeSeries: the ${what} of point ${index + 1} is ${String(value)}, a finite number or null is expected`);
  }
}
