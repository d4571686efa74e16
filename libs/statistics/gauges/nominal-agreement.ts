import { exactFraction, type ExactFraction } from '../sampling/exact-fraction.js';
import { cohenKappa, type Kappa } from './cohen-kappa.js';
import { crossTable } from './cross-table.js';
import { type FleissKappa, fleissKappa } from './fleiss-kappa.js';
import { requireConfidence } from './mean-square.js';

/** What one rater makes of what the standard says; null where the standard has no such subject. */
export type AgainstStandard = {
  readonly agreement: ExactFraction;
  readonly kappa: Kappa;
  /** Subjects to be rejected that were let pass, of those to be rejected. */
  readonly missed: ExactFraction | null;
  /** Subjects to be accepted that were rejected, of those to be accepted. */
  readonly falseAlarms: ExactFraction | null;
};

export type NominalAgreement = {
  readonly subjects: number;
  readonly raters: number;
  /** In order of first appearance unless given. */
  readonly categories: readonly string[];
  /** Subjects on which all raters agree. */
  readonly allAgree: ExactFraction;
  readonly fleiss: FleissKappa;
  /** Every pair of raters (0-based), Cohen's kappa. */
  readonly pairs: readonly { readonly first: number; readonly second: number; readonly agreement: ExactFraction; readonly kappa: Kappa }[];
  /** One entry a rater; null without a standard. */
  readonly againstStandard: readonly AgainstStandard[] | null;
};

export type NominalInput = {
  /** Subject, rater: the same raters in the same order for every subject. Two goes of one rater count as two raters. */
  readonly ratings: readonly (readonly string[])[];
  readonly standard?: readonly string[] | null | undefined;
  /** Categories that mean reject; without them there are no misses and false alarms. */
  readonly reject?: readonly string[] | undefined;
  readonly confidence?: number | undefined;
};

/**
 * Agreement of visual ratings without order. Exact intervals of shares: Clopper & Pearson 1934 (exactFraction); kappas as
 * cohenKappa and fleissKappa. Miss and false alarm rates against a standard: common practice, no source.
 * @throws RangeError under 2 subjects, raters or categories, with uneven rows, or a confidence not inside 0 to 1
 */
export function nominalAgreement({ ratings, standard = null, reject = [], confidence = 0.95 }: NominalInput): NominalAgreement {
  const caller = 'nominalAgreement';
  requireConfidence(confidence, caller);
  const raters = ratings[0]?.length ?? 0;
  if (ratings.length < 2 || raters < 2) throw new RangeError(`${caller}: needs at least 2 subjects and 2 raters, ${ratings.length} and ${raters} given`);
  const uneven = ratings.findIndex((row) => row.length !== raters);
  if (uneven >= 0) throw new RangeError(`${caller}: needs ${raters} ratings of every subject, subject ${uneven + 1} has ${ratings[uneven]?.length ?? 0}`);
  if (standard !== null && standard.length !== ratings.length) throw new RangeError(`${caller}: needs a standard for every subject, ${standard.length} for ${ratings.length} given`);
  const categories = [...new Set([...ratings.flat(), ...(standard ?? [])])];
  if (categories.length < 2) throw new RangeError(`${caller}: needs at least 2 categories in use, ${categories.length} given`);
  const place = new Map(categories.map((category, index) => [category, index]));
  const counts = ratings.map((row) => {
    const line = categories.map(() => 0);
    for (const rating of row) line[place.get(rating) as number] = (line[place.get(rating) as number] as number) + 1;
    return line;
  });
  const of = (rater: number): string[] => ratings.map((row) => row[rater] as string);
  const share = (found: (index: number) => boolean): ExactFraction => exactFraction(ratings.filter((_row, index) => found(index)).length, ratings.length, confidence);
  const pairs = pairsOf(raters).map(({ first, second }) => {
    const [a, b] = [of(first), of(second)];
    return { first, second, agreement: share((i) => a[i] === b[i]), kappa: cohenKappa(crossTable(a, b, categories), 'none', confidence) };
  });
  return {
    subjects: ratings.length, raters, categories, allAgree: share((i) => new Set(ratings[i]).size === 1), fleiss: fleissKappa(counts, confidence), pairs,
    againstStandard: standard && Array.from({ length: raters }, (_, rater) => {
      const own = of(rater);
      return {
        agreement: share((i) => own[i] === standard[i]), kappa: cohenKappa(crossTable(standard, own, categories), 'none', confidence),
        ...errorRates(standard.map((rating) => reject.includes(rating)), own.map((rating) => reject.includes(rating)), reject.length > 0, confidence),
      };
    }),
  };
}

/** Every pair of raters once. @throws RangeError when raters is not a whole number from 0 to 1000 */
export function pairsOf(raters: number): { first: number; second: number }[] {
  if (!(Number.isInteger(raters) && raters >= 0 && raters <= 1000)) throw new RangeError(`pairsOf: needs a whole number of raters from 0 to 1000, ${raters} given`);
  return Array.from({ length: raters }, (_, first) => Array.from({ length: raters - first - 1 }, (_unused, step) => ({ first, second: first + 1 + step }))).flat();
}

/** Misses and false alarms of one rater; `known` false where nothing says what is to be rejected. */
export function errorRates(toReject: readonly boolean[], rejected: readonly boolean[], known: boolean, confidence: number): Pick<AgainstStandard, 'missed' | 'falseAlarms'> {
  const rate = (due: boolean): ExactFraction | null => {
    const subjects = rejected.filter((_value, i) => toReject[i] === due);
    return known && subjects.length > 0 ? exactFraction(subjects.filter((value) => value !== due).length, subjects.length, confidence) : null;
  };
  return { missed: rate(true), falseAlarms: rate(false) };
}
