import { normalUpperTail } from '../distributions/normal.js';
import { studentTQuantile } from '../distributions/student-t.js';
import { requireConfidence } from './mean-square.js';

export type FleissKappa = {
  /** Null where only one category was ever used. */
  readonly kappa: number | null;
  readonly observed: number;
  readonly byChance: number;
  readonly seNull: number | null;
  readonly z: number | null;
  /** One-sided: agreement above chance. */
  readonly p: number | null;
  /** By the jackknife over subjects; null under three subjects or where leaving one out leaves a single category. */
  readonly se: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly categories: readonly { readonly share: number; readonly kappa: number | null; readonly seNull: number | null; readonly z: number | null; readonly p: number | null }[];
};

/**
 * Agreement beyond chance of any number of raters, the same number for every subject, not necessarily the same people.
 * Source: Fleiss 1971, "Measuring nominal scale agreement among many raters", Psychological Bulletin 76, with kappa of each
 * category; standard errors under no agreement: Fleiss, Nee & Landis 1979, Psychological Bulletin 86, which correct those
 * of 1971. Interval: jackknife over the subjects with t of one less df (Kraemer 1980, Biometrics 36), cut at -1 and 1.
 * @param counts one row a subject: how many raters chose each category
 * @throws RangeError under 2 subjects, 2 categories or 2 raters, with uneven rows, or counts that are not whole
 */
export function fleissKappa(counts: readonly (readonly number[])[], confidence = 0.95): FleissKappa {
  const caller = 'fleissKappa';
  requireConfidence(confidence, caller);
  const k = counts[0]?.length ?? 0;
  const raters = (counts[0] ?? []).reduce((sum, count) => sum + count, 0);
  if (counts.length < 2 || k < 2) throw new RangeError(`${caller}: needs at least 2 subjects and 2 categories, ${counts.length} and ${k} given`);
  counts.forEach((row, i) => {
    if (row.length !== k || !row.every((count) => Number.isSafeInteger(count) && count >= 0)) throw new RangeError(`${caller}: needs ${k} whole counts of 0 or more a subject, subject ${i + 1} has others`);
    const sum = row.reduce((total, count) => total + count, 0);
    if (sum !== raters) throw new RangeError(`${caller}: needs the same number of raters for every subject, ${raters} and at subject ${i + 1} ${sum} given`);
  });
  if (raters < 2) throw new RangeError(`${caller}: needs at least 2 raters, ${raters} given`);
  const n = counts.length;
  const totals = Array.from({ length: k }, (_, j) => counts.reduce((sum, row) => sum + (row[j] as number), 0));
  const agreeing = counts.map((row) => row.reduce((sum, count) => sum + count * (count - 1), 0));
  const allAgreeing = agreeing.reduce((sum, value) => sum + value, 0);
  const { kappa, observed, byChance } = kappaFrom(totals, allAgreeing, n, raters);
  const shares = totals.map((total) => total / (n * raters));
  const pq = shares.reduce((sum, p) => sum + p * (1 - p), 0);
  const skew = shares.reduce((sum, p) => sum + p * (1 - p) * (1 - 2 * p), 0);
  const pairs = n * raters * (raters - 1);
  const seNull = kappa === null ? null : Math.sqrt((2 / pairs) * Math.max(0, pq * pq - skew)) / pq;
  const left = counts.map((row, i) => kappaFrom(totals.map((total, j) => total - (row[j] as number)), allAgreeing - (agreeing[i] as number), n - 1, raters).kappa);
  return {
    kappa, observed, byChance, seNull, ...against(kappa, seNull), ...jackknife(kappa, left, confidence),
    categories: shares.map((share, j) => {
      if (totals[j] === 0 || totals[j] === n * raters) return { share, kappa: null, seNull: null, z: null, p: null };
      const disagreeing = counts.reduce((sum, row) => sum + (row[j] as number) * (raters - (row[j] as number)), 0);
      const own = 1 - disagreeing / (pairs * share * (1 - share));
      const se = Math.sqrt(2 / pairs);
      return { share, kappa: own, seNull: se, ...against(own, se) };
    }),
  };
}

function kappaFrom(totals: readonly number[], agreeing: number, n: number, raters: number): { kappa: number | null; observed: number; byChance: number } {
  const observed = agreeing / (n * raters * (raters - 1));
  const byChance = totals.reduce((sum, total) => sum + (total / (n * raters)) ** 2, 0);
  const used = totals.filter((total) => total > 0).length;
  return { observed, byChance, kappa: used < 2 ? null : (observed - byChance) / (1 - byChance) };
}

function against(kappa: number | null, se: number | null): { z: number | null; p: number | null } {
  if (kappa === null || se === null || !(se > 1e-12)) return { z: null, p: null };
  return { z: kappa / se, p: normalUpperTail(kappa / se) };
}

function jackknife(kappa: number | null, left: readonly (number | null)[], confidence: number): { se: number | null; low: number | null; high: number | null } {
  const n = left.length;
  if (kappa === null || n < 3 || left.some((value) => value === null)) return { se: null, low: null, high: null };
  const pseudo = left.map((value) => n * kappa - (n - 1) * (value as number));
  const centre = pseudo.reduce((sum, value) => sum + value, 0) / n;
  const se = Math.sqrt(pseudo.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (n * (n - 1)));
  const half = studentTQuantile((1 + confidence) / 2, n - 1) * se;
  // About the estimate, not about the mean of the pseudo-values: they differ by the small bias of kappa.
  return { se, low: Math.max(-1, kappa - half), high: Math.min(1, kappa + half) };
}
