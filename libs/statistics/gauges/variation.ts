import { type Bounds, combinationInterval, ratioInterval, type Term } from './combination-interval.js';

/** One source of variation; sds in the unit of the readings, shares as parts of 1. */
export type Variation = {
  /** As the mean squares give it, which may be negative, and cut at 0. */
  readonly raw: number;
  readonly variance: number;
  readonly sd: number;
  /** Interval of the sd, from the raw variance, cut at 0. */
  readonly interval: Bounds;
  /** Share of the total variance, and of the total sd (`ofStudy`); null where nothing varies. */
  readonly ofVariance: number | null;
  readonly ofStudy: number | null;
  /** Multiplier times sd over the tolerance; null without a tolerance. */
  readonly ofTolerance: number | null;
  readonly ofToleranceInterval: Bounds | null;
};

/** Width of the specification and how many sds are held against it. */
export type StudyOptions = {
  readonly tolerance?: number | null | undefined;
  /** 6 unless told: 99.73 % of a normal characteristic. Older studies used 5.15 (99 %). */
  readonly multiplier?: number | undefined;
  readonly confidence?: number | undefined;
};

/** Parts against gauge: what the study says about telling parts apart. */
export type Separation = {
  /** floor(sqrt(2) sd part / sd gauge); null where the gauge does not vary. */
  readonly distinctCategories: number | null;
  /** `high` null: no number is too large. */
  readonly distinctCategoriesInterval: { readonly low: number; readonly high: number | null } | null;
  /** Interval of the gauge's share of the total sd. */
  readonly gaugeOfStudyInterval: Bounds | null;
};

/** @throws RangeError when the tolerance or the multiplier is not a positive finite number */
export function requireStudyOptions({ tolerance, multiplier }: StudyOptions, caller: string): void {
  if (tolerance !== undefined && tolerance !== null && !(tolerance > 0 && Number.isFinite(tolerance))) throw new RangeError(`${caller}: needs a tolerance above 0, ${tolerance} given`);
  if (multiplier !== undefined && !(multiplier > 0 && Number.isFinite(multiplier))) throw new RangeError(`${caller}: needs a multiplier above 0, ${multiplier} given`);
}

/**
 * One row of the table of variation.
 * @param variance cut at 0 (a sum of cut components where the source is a sum)
 * @param total variance of everything, cut the same way
 * @param terms the raw variance as a combination of mean squares, for the interval
 */
export function variationOf(variance: number, total: number, terms: readonly Term[], options: StudyOptions): Variation {
  const bounds = combinationInterval(terms, options.confidence);
  const interval = { low: Math.sqrt(Math.max(0, bounds.low)), high: Math.sqrt(Math.max(0, bounds.high)) };
  const width = options.tolerance === undefined || options.tolerance === null ? null : (options.multiplier ?? 6) / options.tolerance;
  if (!(variance >= 0 && Number.isFinite(variance))) throw new RangeError(`variationOf: needs a variance of 0 or more, ${variance} given`);
  const sd = Math.sqrt(variance);
  const share = total > 0 ? variance / total : null;
  if (share !== null && !Number.isFinite(share)) throw new RangeError(`variationOf: needs a total that holds the variance, ${total} for ${variance} given`);
  if (width !== null && !Number.isFinite(width * Math.max(sd, interval.high))) throw new RangeError('variationOf: needs a tolerance that is not vanishing beside the sds, one beyond the range of numbers given');
  return {
    raw: terms.reduce((sum, { coefficient, ms }) => sum + coefficient * ms, 0), variance, sd, interval,
    ofVariance: share, ofStudy: share === null ? null : Math.sqrt(share),
    ofTolerance: width === null ? null : width * sd,
    ofToleranceInterval: width === null ? null : { low: width * interval.low, high: width * interval.high },
  };
}

/**
 * Distinct categories, floor(sqrt(2) sd part / sd gauge), the convention of the automotive industry reference manual on
 * measurement systems analysis, 3rd and 4th ed., with an interval from that of the ratio of the two variances.
 */
export function separation(part: number, gauge: number, partTerms: readonly Term[], gaugeTerms: readonly Term[], confidence?: number): Separation {
  const ratio = ratioInterval(partTerms, gaugeTerms, confidence);
  return {
    distinctCategories: categories(gauge > 0 ? part / gauge : null),
    distinctCategoriesInterval: ratio && { low: Math.floor(Math.sqrt(2 * ratio.low)), high: categories(ratio.high) },
    gaugeOfStudyInterval: ratio && { low: ratio.high === null ? 0 : Math.sqrt(1 / (1 + ratio.high)), high: Math.sqrt(1 / (1 + ratio.low)) },
  };
}

/** A ratio of 8 that rounding has left at 7.999999999999 is still 4 categories; null where there is no ratio of 0 or more. */
export function categories(ratio: number | null): number | null {
  return ratio === null || !(ratio >= 0 && Number.isFinite(ratio)) ? null : Math.floor(Math.SQRT2 * Math.sqrt(ratio) * (1 + 1e-12));
}
