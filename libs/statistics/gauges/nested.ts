import type { Term } from './combination-interval.js';
import { fTest } from './crossed.js';
import { type BalancedTable, balancedTable, type FTest, type MeanSquare, meanSquare, requireConfidence, requireInRange } from './mean-square.js';
import { requireStudyOptions, type Separation, separation, type StudyOptions, type Variation, variationOf } from './variation.js';

export type GaugeNested = {
  readonly anova: { readonly appraiser: MeanSquare; readonly part: MeanSquare; readonly repeatability: MeanSquare; readonly total: { readonly ss: number; readonly df: number } };
  /** Appraisers against parts, parts against repeatability. */
  readonly tests: { readonly appraiser: FTest; readonly part: FTest };
  readonly repeatability: Variation;
  /** Reproducibility: here it cannot be told from how the parts happened to be dealt out. */
  readonly appraiser: Variation;
  readonly gauge: Variation;
  readonly part: Variation;
  readonly total: Variation;
} & Separation;

/**
 * Gauge study of a test that destroys the part, such as a seam teardown: no two appraisers measure the same part, so the
 * parts are nested in appraisers, and a `trial` is a repeat on the same part (another place) or on one that is taken as
 * alike. How far the like parts differ counts as repeatability; the study cannot tell the two apart.
 * Source: Montgomery, Design and Analysis of Experiments, "The two-stage nested design"; Borror, Montgomery & Runger 1997,
 * "Confidence intervals for variance components from gauge capability studies". Intervals as in gaugeCrossed.
 * @param readings appraiser, part of that appraiser, trial; balanced, 2 or more of each
 * @throws RangeError when uneven, too small, not finite, or with options out of range
 */
export function gaugeNested(readings: readonly (readonly (readonly number[])[])[], options: StudyOptions = {}): GaugeNested {
  const caller = 'gaugeNested';
  const { confidence = 0.95 } = options;
  requireConfidence(confidence, caller);
  requireStudyOptions(options, caller);
  const table = balancedTable(readings, { outer: 'appraisers', middle: 'parts', inner: 'trials', least: 2 }, caller);
  const anova = nestedSquares(table);
  requireInRange([anova.total.ss], caller);
  const { middle: p, inner: r } = table;
  const lines = [anova.appraiser, anova.part, anova.repeatability];
  const of = (...coefficients: readonly number[]): Term[] => lines.map(({ ms, df }, i) => ({ coefficient: coefficients[i] ?? 0, ms, df }));
  const terms = {
    repeatability: of(0, 0, 1), appraiser: of(1 / (p * r), -1 / (p * r), 0), part: of(0, 1 / r, -1 / r),
    gauge: of(1 / (p * r), -1 / (p * r), 1), total: of(1 / (p * r), (p - 1) / (p * r), (r - 1) / r),
  };
  const repeatability = anova.repeatability.ms;
  const appraiser = Math.max(0, (anova.appraiser.ms - anova.part.ms) / (p * r));
  const part = Math.max(0, (anova.part.ms - repeatability) / r);
  const gauge = repeatability + appraiser;
  const total = gauge + part;
  const row = (variance: number, combination: readonly Term[]): Variation => variationOf(variance, total, combination, options);
  return {
    anova, tests: { appraiser: fTest(anova.appraiser, anova.part), part: fTest(anova.part, anova.repeatability) },
    repeatability: row(repeatability, terms.repeatability), appraiser: row(appraiser, terms.appraiser),
    gauge: row(gauge, terms.gauge), part: row(part, terms.part), total: row(total, terms.total),
    ...separation(part, gauge, terms.part, terms.gauge, confidence),
  };
}

function nestedSquares({ outer: o, middle: p, inner: r, differences }: BalancedTable): GaugeNested['anova'] {
  const parts = new Float64Array(o * p);
  const appraisers = new Float64Array(o);
  let grand = 0;
  for (let at = 0; at < differences.length; at += 1) {
    const part = Math.floor(at / r);
    parts[part] = (parts[part] as number) + (differences[at] as number) / r;
  }
  parts.forEach((value, part) => {
    const appraiser = Math.floor(part / p);
    appraisers[appraiser] = (appraisers[appraiser] as number) + value / p;
    grand += value / (o * p);
  });
  let [between, amongParts, within] = [0, 0, 0];
  for (const value of appraisers) between += (value - grand) ** 2;
  parts.forEach((value, part) => {
    amongParts += (value - (appraisers[Math.floor(part / p)] as number)) ** 2;
  });
  differences.forEach((value, at) => {
    within += (value - (parts[Math.floor(at / r)] as number)) ** 2;
  });
  const lines = { appraiser: meanSquare(between * p * r, o - 1), part: meanSquare(amongParts * r, o * (p - 1)), repeatability: meanSquare(within, o * p * (r - 1)) };
  return { ...lines, total: { ss: lines.appraiser.ss + lines.part.ss + within, df: o * p * r - 1 } };
}
