import { fUpperTail } from '../distributions/f.js';
import type { Term } from './combination-interval.js';
import { type BalancedTable, balancedTable, type FTest, type MeanSquare, meanSquare, requireConfidence, requireInRange } from './mean-square.js';
import { requireStudyOptions, type Separation, separation, type StudyOptions, type Variation, variationOf } from './variation.js';

export type CrossedOptions = StudyOptions & {
  /** The interaction is pooled into repeatability when its p is above this; null keeps it whatever its p. */
  readonly poolAbove?: number | null | undefined;
};

export type GaugeCrossed = {
  readonly anova: { readonly part: MeanSquare; readonly appraiser: MeanSquare; readonly interaction: MeanSquare; readonly repeatability: MeanSquare; readonly total: { readonly ss: number; readonly df: number } };
  /** Parts and appraisers against the interaction (against the pooled error where it is pooled), the interaction against repeatability. */
  readonly tests: { readonly part: FTest; readonly appraiser: FTest; readonly interaction: FTest };
  readonly interaction: 'kept' | 'pooled';
  readonly repeatability: Variation;
  readonly appraiser: Variation;
  /** Null where it is pooled. */
  readonly appraiserByPart: Variation | null;
  /** Appraiser and interaction together. */
  readonly reproducibility: Variation;
  /** Repeatability and reproducibility together. */
  readonly gauge: Variation;
  readonly part: Variation;
  readonly total: Variation;
} & Separation;

/**
 * Gauge study in which every appraiser measures every part several times; parts and appraisers are both random.
 * Sums of squares of the balanced two-way layout with interaction: Montgomery, Design and Analysis of Experiments, "The
 * two-factor factorial with random factors"; Montgomery & Runger 1993, "Gauge capability and designed experiments",
 * Quality Engineering 6. Components are differences of mean squares, cut at 0 one by one and kept raw beside it.
 * Intervals: Burdick, Borror & Montgomery 2005, modified large samples (combinationInterval).
 * @param readings part, appraiser, trial; balanced, 2 or more of each
 * @throws RangeError when uneven, too small, not finite, or with options out of range
 */
export function gaugeCrossed(readings: readonly (readonly (readonly number[])[])[], options: CrossedOptions = {}): GaugeCrossed {
  const caller = 'gaugeCrossed';
  const { confidence = 0.95, poolAbove = 0.25 } = options;
  requireConfidence(confidence, caller);
  requireStudyOptions(options, caller);
  if (poolAbove !== null && !(poolAbove >= 0 && poolAbove <= 1)) throw new RangeError(`${caller}: needs a p to pool above from 0 to 1, ${poolAbove} given`);
  const table = balancedTable(readings, { outer: 'parts', middle: 'appraisers', inner: 'trials', least: 2 }, caller);
  const anova = crossedSquares(table);
  requireInRange([anova.total.ss], caller);
  const { outer: p, middle: o, inner: r } = table;
  const againstRepeatability = fTest(anova.interaction, anova.repeatability);
  const pooled = poolAbove !== null && (againstRepeatability === null ? anova.interaction.ss === 0 : againstRepeatability.p > poolAbove);
  const error = pooled ? meanSquare(anova.interaction.ss + anova.repeatability.ss, anova.interaction.df + anova.repeatability.df) : anova.repeatability;
  const divisor = pooled ? error : anova.interaction;

  // Always the same mean squares in the same order, so that combinations can be taken from one another.
  const lines = pooled ? [anova.part, anova.appraiser, error] : [anova.part, anova.appraiser, anova.interaction, error];
  const of = (...coefficients: readonly number[]): Term[] => lines.map(({ ms, df }, i) => ({ coefficient: coefficients[i] ?? 0, ms, df }));
  const terms = pooled
    ? { repeatability: of(0, 0, 1), appraiser: of(0, 1, -1).map(over(p * r)), interaction: null, part: of(1, 0, -1).map(over(o * r)) }
    : { repeatability: of(0, 0, 0, 1), appraiser: of(0, 1, -1, 0).map(over(p * r)), interaction: of(0, 0, 1, -1).map(over(r)), part: of(1, 0, -1, 0).map(over(o * r)) };
  const cut = (component: readonly Term[] | null): number => Math.max(0, component?.reduce((sum, { coefficient, ms }) => sum + coefficient * ms, 0) ?? 0);
  const [repeatability, appraiser, interaction, part] = [cut(terms.repeatability), cut(terms.appraiser), cut(terms.interaction), cut(terms.part)];
  const reproducibilityTerms = terms.interaction === null ? terms.appraiser : sum(terms.appraiser, terms.interaction);
  const gaugeTerms = sum(reproducibilityTerms, terms.repeatability);
  const gauge = repeatability + appraiser + interaction;
  const total = gauge + part;
  const row = (variance: number, combination: readonly Term[]): Variation => variationOf(variance, total, combination, options);
  return {
    anova, tests: { part: fTest(anova.part, divisor), appraiser: fTest(anova.appraiser, divisor), interaction: againstRepeatability },
    interaction: pooled ? 'pooled' : 'kept',
    repeatability: row(repeatability, terms.repeatability), appraiser: row(appraiser, terms.appraiser),
    appraiserByPart: terms.interaction && row(interaction, terms.interaction),
    reproducibility: row(appraiser + interaction, reproducibilityTerms),
    gauge: row(gauge, gaugeTerms), part: row(part, terms.part), total: row(total, sum(gaugeTerms, terms.part)),
    ...separation(part, gauge, terms.part, gaugeTerms, confidence),
  };
}

const over = (divisor: number) => (term: Term): Term => ({ ...term, coefficient: term.coefficient / divisor });

const sum = (a: readonly Term[], b: readonly Term[]): Term[] => a.map((term, i) => ({ ...term, coefficient: term.coefficient + (b[i]?.coefficient ?? 0) }));

/** Null where the divisor does not vary. */
export function fTest(tested: MeanSquare, divisor: MeanSquare): FTest {
  const f = tested.ms / divisor.ms;
  return Number.isFinite(f) ? { f, p: fUpperTail(f, tested.df, divisor.df) } : null;
}

function crossedSquares({ outer: p, middle: o, inner: r, differences }: BalancedTable): GaugeCrossed['anova'] {
  const cells = new Float64Array(p * o);
  const parts = new Float64Array(p);
  const appraisers = new Float64Array(o);
  let grand = 0;
  for (let i = 0; i < p; i += 1) {
    for (let j = 0; j < o; j += 1) {
      let cell = 0;
      for (let k = 0; k < r; k += 1) cell += differences[(i * o + j) * r + k] as number;
      cell /= r;
      cells[i * o + j] = cell;
      parts[i] = (parts[i] as number) + cell / o;
      appraisers[j] = (appraisers[j] as number) + cell / p;
      grand += cell / (p * o);
    }
  }
  // Each sum is one of squared deviations, none a difference of two sums: that could turn out negative.
  let [part, appraiser, interaction, within] = [0, 0, 0, 0];
  for (let i = 0; i < p; i += 1) part += ((parts[i] as number) - grand) ** 2;
  for (let j = 0; j < o; j += 1) appraiser += ((appraisers[j] as number) - grand) ** 2;
  for (let i = 0; i < p; i += 1) {
    for (let j = 0; j < o; j += 1) {
      const cell = cells[i * o + j] as number;
      interaction += (cell - (parts[i] as number) - (appraisers[j] as number) + grand) ** 2;
      for (let k = 0; k < r; k += 1) within += ((differences[(i * o + j) * r + k] as number) - cell) ** 2;
    }
  }
  const lines = {
    part: meanSquare(part * o * r, p - 1), appraiser: meanSquare(appraiser * p * r, o - 1),
    interaction: meanSquare(interaction * r, (p - 1) * (o - 1)), repeatability: meanSquare(within, p * o * (r - 1)),
  };
  return { ...lines, total: { ss: lines.part.ss + lines.appraiser.ss + lines.interaction.ss + within, df: p * o * r - 1 } };
}
