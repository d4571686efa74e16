import { withinFreedom } from '../capability/within-freedom.js';
import { chartConstants } from '../charts/constants.js';
import { mean } from '../numeric/mean.js';
import { range } from '../numeric/range.js';
import { type Bounds, satterthwaite, type Term } from './combination-interval.js';
import { balancedTable, requireConfidence, requireInRange } from './mean-square.js';
import { categories, requireStudyOptions, type StudyOptions } from './variation.js';

/** One source of variation from ranges; sds in the unit of the readings, shares as parts of 1. */
export type RangeVariation = {
  readonly sd: number;
  /** Satterthwaite interval of the sd. */
  readonly interval: Bounds | null;
  readonly ofVariance: number | null;
  readonly ofStudy: number | null;
  readonly ofTolerance: number | null;
  readonly ofToleranceInterval: Bounds | null;
};

export type GaugeAverageRange = {
  readonly meanRange: number;
  /** Largest less smallest mean of an appraiser, and of a part. */
  readonly appraiserDifference: number;
  readonly partRange: number;
  /** Factors that turn the three into sds, 1/d2*. */
  readonly factors: { readonly trials: number; readonly appraisers: number; readonly parts: number };
  readonly repeatability: RangeVariation;
  readonly reproducibility: RangeVariation;
  /** Variance between appraisers before it is cut at 0. */
  readonly rawReproducibility: number;
  readonly gauge: RangeVariation;
  readonly part: RangeVariation;
  readonly total: RangeVariation;
  readonly distinctCategories: number | null;
};

/** Ranges from more subgroups than this are divided by d2 itself, as in print. */
const MOST_SUBGROUPS = 15;

/**
 * The factor d2*: the mean of k ranges of n readings divided by it has the variance as its mean square. sqrt(d2^2 + d3^2/k);
 * source: Duncan, Quality Control and Industrial Statistics, table D3 (after Patnaik 1950). Without unit, good to 1e-9.
 * @throws RangeError when n is not a whole number from 2 to 200 or k not a whole number above 0
 */
export function rangeDivisor(n: number, k: number): number {
  if (!Number.isInteger(k) || k < 1) throw new RangeError(`rangeDivisor: needs a whole number of ranges, 1 or more, ${k} given`);
  const { d2, d3 } = chartConstants(n);
  return k > MOST_SUBGROUPS ? d2 : Math.sqrt(d2 * d2 + (d3 * d3) / k);
}

/**
 * Gauge study by averages and ranges: quick by hand, blind to the interaction of appraiser and part, and less exact than the
 * analysis of variance. Source: the automotive industry reference manual on measurement systems analysis, 3rd and 4th
 * ed., chapter III; ranges become sds with d2* (rangeDivisor). The variance of the appraisers' means is relieved of what
 * repeatability put into it, and cut at 0.
 * @param readings part, appraiser, trial; balanced, 2 or more of each, at most 200 of each
 * @throws RangeError when uneven, too small, too large, not finite, or with options out of range
 */
export function gaugeAverageRange(readings: readonly (readonly (readonly number[])[])[], options: StudyOptions = {}): GaugeAverageRange {
  const caller = 'gaugeAverageRange';
  const { confidence = 0.95, tolerance = null, multiplier = 6 } = options;
  requireConfidence(confidence, caller);
  requireStudyOptions(options, caller);
  const { outer: p, middle: o, inner: r, differences } = balancedTable(readings, { outer: 'parts', middle: 'appraisers', inner: 'trials', least: 2 }, caller);
  const cells = Array.from({ length: p * o }, (_, at) => differences.subarray(at * r, (at + 1) * r));
  requireInRange(cells.map((cell) => range(cell) ** 2 * o * p), caller);
  const meanRange = mean(cells.map((cell) => range(cell)));
  const cellMeans = cells.map((cell) => mean(cell));
  const partRange = range(Array.from({ length: p }, (_, i) => mean(cellMeans.slice(i * o, (i + 1) * o))));
  const appraiserDifference = range(Array.from({ length: o }, (_, j) => mean(cellMeans.filter((_value, at) => at % o === j))));
  const factors = { trials: 1 / rangeDivisor(r, p * o), appraisers: 1 / rangeDivisor(o, 1), parts: 1 / rangeDivisor(p, 1) };

  const within: Term = { coefficient: 1, ms: (meanRange * factors.trials) ** 2, df: withinFreedom('xbar-r', cells.map(() => r)) };
  const appraisers: Term = { coefficient: 1, ms: (appraiserDifference * factors.appraisers) ** 2, df: withinFreedom('xbar-r', [o]) };
  const parts: Term = { coefficient: 1, ms: (partRange * factors.parts) ** 2, df: withinFreedom('xbar-r', [p]) };
  const rawReproducibility = appraisers.ms - within.ms / (p * r);
  const between = Math.max(0, rawReproducibility);
  const gauge = within.ms + between;
  const total = gauge + parts.ms;
  requireInRange([total * 2], caller);
  // The gauge as a sum of what was measured: all of it positive, so that one chi-square can stand for it.
  const gaugeTerms = between > 0 ? [appraisers, { ...within, coefficient: 1 - 1 / (p * r) }] : [within];
  const row = (variance: number, terms: readonly Term[] | null): RangeVariation => {
    const bounds = terms && satterthwaite(terms, confidence);
    const interval = bounds && { low: Math.sqrt(bounds.low), high: Math.sqrt(bounds.high) };
    const width = tolerance === null ? null : multiplier / tolerance;
    requireInRange([(width ?? 0) * Math.max(Math.sqrt(variance), interval?.high ?? 0)], caller);
    return {
      sd: Math.sqrt(variance), interval, ofVariance: total > 0 ? variance / total : null, ofStudy: total > 0 ? Math.sqrt(variance / total) : null,
      ofTolerance: width === null ? null : width * Math.sqrt(variance),
      ofToleranceInterval: width === null || interval === null ? null : { low: width * interval.low, high: width * interval.high },
    };
  };
  return {
    meanRange, appraiserDifference, partRange, factors, rawReproducibility,
    repeatability: row(within.ms, [within]),
    // A difference of two variances has no effective df: its interval is left to the analysis of variance.
    reproducibility: row(between, null),
    gauge: row(gauge, gaugeTerms), part: row(parts.ms, [parts]), total: row(total, [...gaugeTerms, parts]),
    distinctCategories: categories(gauge > 0 ? parts.ms / gauge : null),
  };
}
