import { exactFraction, type ExactFraction } from '../sampling/exact-fraction.js';
import { cohenKappa, type Kappa } from './cohen-kappa.js';
import { crossTable } from './cross-table.js';
import { requireConfidence } from './mean-square.js';
import { type AgainstStandard, errorRates, pairsOf } from './nominal-agreement.js';

/** Agreement of two lists of grades; `meanDifference` second less first, in grades. */
export type GradeAgreement = { readonly exact: ExactFraction; readonly within: ExactFraction; readonly meanDifference: number; readonly linear: Kappa; readonly quadratic: Kappa };

export type OrdinalAgreement = {
  readonly subjects: number;
  readonly raters: number;
  readonly categories: readonly number[];
  /** Subjects whose highest and lowest grade differ by no more than the steps allowed. */
  readonly allWithin: ExactFraction;
  readonly pairs: readonly (GradeAgreement & { readonly first: number; readonly second: number })[];
  /** One entry a rater, the standard being the first list; null without a standard. */
  readonly againstStandard: readonly (GradeAgreement & Pick<AgainstStandard, 'missed' | 'falseAlarms'>)[] | null;
};

export type OrdinalInput = {
  /** Subject, rater. */
  readonly ratings: readonly (readonly number[])[];
  /** All grades there are, rising; weights and steps count places in this list. */
  readonly categories: readonly number[];
  readonly steps: number;
  readonly standard?: readonly number[] | null | undefined;
  /** Grades below this are to be rejected; null: there are no misses and false alarms. */
  readonly least?: number | null | undefined;
  readonly confidence?: number | undefined;
};

/**
 * Agreement of ratings that are in order, such as tightness in steps of 10 %. Agreement within some steps with the exact
 * interval of Clopper & Pearson 1934; weighted kappa as cohenKappa (Cohen 1968). A grade is no measurement: no sd is given.
 * @throws RangeError under 2 subjects, raters or categories, when categories do not rise, with uneven rows or an unknown
 *   grade, steps that are not whole, or a confidence not inside 0 to 1
 */
export function ordinalAgreement({ ratings, categories, steps, standard = null, least = null, confidence = 0.95 }: OrdinalInput): OrdinalAgreement {
  const caller = 'ordinalAgreement';
  requireConfidence(confidence, caller);
  const raters = ratings[0]?.length ?? 0;
  if (ratings.length < 2 || raters < 2) throw new RangeError(`${caller}: needs at least 2 subjects and 2 raters, ${ratings.length} and ${raters} given`);
  const uneven = ratings.findIndex((row) => row.length !== raters);
  if (uneven >= 0) throw new RangeError(`${caller}: needs ${raters} ratings of every subject, subject ${uneven + 1} has ${ratings[uneven]?.length ?? 0}`);
  if (categories.length < 2 || categories.some((grade, i) => !Number.isFinite(grade) || (i > 0 && grade <= (categories[i - 1] as number)))) {
    throw new RangeError(`${caller}: needs at least 2 finite grades, each above the one before, ${categories.join(' ')} given`);
  }
  if (!Number.isInteger(steps) || steps < 0) throw new RangeError(`${caller}: needs a whole number of steps, 0 or more, ${steps} given`);
  if (standard !== null && standard.length !== ratings.length) throw new RangeError(`${caller}: needs a standard for every subject, ${standard.length} for ${ratings.length} given`);
  if (least !== null && !Number.isFinite(least)) throw new RangeError(`${caller}: needs a finite least grade or null, ${least} given`);
  const place = new Map(categories.map((grade, index) => [grade, index]));
  const placeOf = (grade: number, subject: number): number => {
    const found = place.get(grade);
    if (found === undefined) throw new RangeError(`${caller}: needs grades among the ${categories.length} given, subject ${subject + 1} has ${String(grade)}`);
    return found;
  };
  const places = ratings.map((row, i) => row.map((grade) => placeOf(grade, i)));
  const compare = (a: readonly number[], b: readonly number[]): GradeAgreement => {
    const apart = a.map((grade, i) => Math.abs(placeOf(grade, i) - placeOf(b[i] as number, i)));
    const share = (most: number): ExactFraction => exactFraction(apart.filter((distance) => distance <= most).length, apart.length, confidence);
    const table = crossTable(a, b, categories);
    return {
      exact: share(0), within: share(steps), meanDifference: a.reduce((sum, grade, i) => sum + ((b[i] as number) - grade) / a.length, 0),
      linear: cohenKappa(table, 'linear', confidence), quadratic: cohenKappa(table, 'quadratic', confidence),
    };
  };
  const of = (rater: number): number[] => ratings.map((row) => row[rater] as number);
  return {
    subjects: ratings.length, raters, categories: [...categories],
    allWithin: exactFraction(places.filter((row) => Math.max(...row) - Math.min(...row) <= steps).length, ratings.length, confidence),
    pairs: pairsOf(raters).map(({ first, second }) => ({ first, second, ...compare(of(first), of(second)) })),
    againstStandard: standard && Array.from({ length: raters }, (_, rater) => {
      const own = of(rater);
      const reject = (grade: number): boolean => least !== null && grade < least;
      return { ...compare(standard, own), ...errorRates(standard.map(reject), own.map(reject), least !== null, confidence) };
    }),
  };
}
