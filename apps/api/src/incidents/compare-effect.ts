import { standardisedDifference } from '#statistics/association/effect-size';
import { permutationTest } from '#statistics/association/permutation';
import { rankSumTest } from '#statistics/association/rank-tests';
import { welchTest } from '#statistics/association/welch';
import { autocorrelation } from '#statistics/choosing/autocorrelation';
import { mean } from '#statistics/numeric/mean';
import { standardDeviation } from '#statistics/numeric/standard-deviation';
import { judgeSeries } from '#statistics/rules/evaluate';
import type { VerificationAnswer, VerificationAsked, VerificationSide } from '#contract/incident-shapes';
import type { EffectChart, EffectSubgroup } from './effect-readings.store.js';

// Below twenty values a side an interval says little, and control is hardly shown. Common practice, no source.
const FEW = 20;
type Compared = Omit<VerificationAnswer, 'stream' | 'otherEvents' | 'otherEventsLeftOut'>;

/** The values that are compared: the mean of each subgroup, or of each can in it; what was not measured is left out. */
export function effectValues(subgroups: readonly EffectSubgroup[], basis: VerificationAsked['basis']): number[] {
  if (basis === 'subgroups') return subgroups.flatMap(({ mean: value }) => (value === null ? [] : [value]));
  return subgroups.flatMap(({ readings, positions }) => Array.from({ length: Math.ceil(readings.length / positions) }, (_none, can) => readings.slice(can * positions, (can + 1) * positions).filter((value) => value !== null)).flatMap((can) => (can.length === 0 ? [] : [mean(can)])));
}

/**
 * What changed between two spans of one stream: difference of means (Welch), permutation and ranks, size of the effect,
 * and whether the subgroups after are in control by the limits that they were judged by: each span is judged by itself,
 * so that no pattern reaches over the change. A method that cannot be
 * computed because nothing varies is null. It shows that two times differ, never why.
 * @param before subgroups in order of time, all by one formula
 * @throws RangeError under 2 values a side
 */
export function compareEffect(before: readonly EffectSubgroup[], after: readonly EffectSubgroup[], { basis, expected }: Pick<VerificationAsked, 'basis' | 'expected'>, chart: EffectChart, otherEvents: number): Compared {
  const [a, b] = [effectValues(before, basis), effectValues(after, basis)];
  const sides = [sideOf(before, a, chart), sideOf(after, b, chart)] as const;
  const welch = orNull(() => welchTest(a, b));
  const ranks = orNull(() => rankSumTest(a, b));
  const size = orNull(() => standardisedDifference(a, b));
  const { p, divisions, exact, standardError } = permutationTest(a, b);
  const difference = sides[1].mean - sides[0].mean;
  const limits = new Set([...before, ...after].map(({ limitsId }) => limitsId).filter((id) => id !== null));
  const afterControl = sides[1].judged === 0 ? 'not-judged' : sides[1].signalled > 0 ? 'signals' : sides[1].notJudged > 0 ? 'partly-judged' : 'in-control';
  const cautions: [caution: Compared['cautions'][number], holds: boolean][] = [
    ['not-proof', true], ['few-values', Math.min(a.length, b.length) < FEW], ['memory', sides.some((side) => side.memory?.beyond === true)],
    ['cans-of-one-check', basis === 'cans'], ['no-difference-seen', welch !== null && welch.low <= 0 && welch.high >= 0],
    ['other-way', (expected === 'higher' && difference < 0) || (expected === 'lower' && difference > 0)],
    ['after-signals', afterControl === 'signals'], ['after-not-judged', sides[1].notJudged > 0], ['limits-changed', limits.size > 1], ['other-events', otherEvents > 0], ['no-variation', welch === null],
  ];
  return {
    before: sides[0], after: sides[1], welch, permutation: { p, divisions, exact, standardError },
    ranks: ranks && { p: ranks.p, exact: ranks.exact, delta: ranks.delta }, size, afterControl,
    cautions: cautions.filter(([, holds]) => holds).map(([caution]) => caution),
  };
}

function sideOf(subgroups: readonly EffectSubgroup[], values: readonly number[], chart: EffectChart): VerificationSide {
  if (values.length < 2) throw new RangeError(`compareEffect: needs at least 2 values a side, ${values.length} given`);
  const memory = orNull(() => autocorrelation(values, { lags: 1 }));
  const judged = subgroups.filter(({ limitsId }) => limitsId !== null);
  return {
    n: values.length, checks: subgroups.length, mean: mean(values), sd: standardDeviation(values), low: Math.min(...values), high: Math.max(...values),
    first: (subgroups[0] as EffectSubgroup).at.toISOString(), last: (subgroups.at(-1) as EffectSubgroup).at.toISOString(),
    judged: judged.length, signalled: signalledIn(subgroups, chart), notJudged: subgroups.length - judged.length,
    memory: memory && { r: memory.memory.phi, bound: memory.bound, beyond: memory.tooOften },
  };
}

/** Subgroups on which a rule fires when the span stands alone. */
function signalledIn(subgroups: readonly EffectSubgroup[], { chartKind, rules }: EffectChart): number {
  const series = subgroups.map(({ n, mean: value, range, sd, limits }) => ({ n: Math.max(1, n), mean: value, spread: chartKind === 'xbar-r' ? range : chartKind === 'xbar-s' ? sd : null, limits, breakBefore: false }));
  return judgeSeries(series, rules).filter(({ firings }) => firings.length > 0).length;
}

/** The methods refuse numbers that they cannot be computed from by a RangeError; anything else is a fault of ours. */
function orNull<Answer>(compute: () => Answer): Answer | null {
  try {
    return compute();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
