import { normalQuantile, normalUpperTail } from '../distributions/normal.js';
import { requireConfidence } from './mean-square.js';

/** How much of an agreement a difference of categories still counts for. */
export type KappaWeights = 'none' | 'linear' | 'quadratic';

export type Kappa = {
  /** 1 full agreement, 0 what chance gives, negative less; null where both only ever used one category. */
  readonly kappa: number | null;
  readonly observed: number;
  readonly byChance: number;
  /** Standard error for the interval, and for the test of kappa = 0. */
  readonly se: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly seNull: number | null;
  readonly z: number | null;
  /** One-sided: agreement above chance. */
  readonly p: number | null;
};

/**
 * Agreement of two raters beyond chance, weighted where the categories are in order: weight 1-|i-j|/(k-1) (linear) or
 * 1-(i-j)^2/(k-1)^2 (quadratic). Source: Cohen 1960, Educational and Psychological Measurement 20; Cohen 1968,
 * Psychological Bulletin 70 (weights); standard errors for large samples: Fleiss, Cohen & Everitt 1969, "Large sample
 * standard errors of kappa and weighted kappa", Psychological Bulletin 72. The interval is cut at -1 and 1.
 * @param table square table of counts, row = first rater, column = second; the order matters with weights
 * @throws RangeError when not square, under 2 categories, a count is not a whole number of 0 or more, all are 0, or confidence not inside 0 to 1
 */
export function cohenKappa(table: readonly (readonly number[])[], weights: KappaWeights = 'none', confidence = 0.95): Kappa {
  const caller = 'cohenKappa';
  requireConfidence(confidence, caller);
  const k = table.length;
  if (k < 2 || table.some((row) => row.length !== k)) throw new RangeError(`${caller}: needs a square table of 2 categories or more, ${k} rows given`);
  let n = 0;
  for (const [i, row] of table.entries()) {
    for (const [j, count] of row.entries()) {
      if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`${caller}: needs whole counts, 0 or more, ${String(count)} given in row ${i + 1}, column ${j + 1}`);
      n += count;
    }
  }
  if (n === 0 || !Number.isSafeInteger(n)) throw new RangeError(`${caller}: needs at least 1 pair of ratings, ${n} given`);
  const w = (i: number, j: number): number => weightOf(weights, Math.abs(i - j), k - 1);
  const share = (i: number, j: number): number => (table[i]?.[j] ?? 0) / n;
  const places = [...table.keys()];
  const sumOver = (term: (i: number) => number): number => places.reduce((sum, i) => sum + term(i), 0);
  const rows = places.map((i) => sumOver((j) => share(i, j)));
  const columns = places.map((j) => sumOver((i) => share(i, j)));
  const row = (i: number): number => rows[i] as number;
  const column = (j: number): number => columns[j] as number;
  const observed = sumOver((i) => sumOver((j) => w(i, j) * share(i, j)));
  const byChance = sumOver((i) => sumOver((j) => w(i, j) * row(i) * column(j)));
  const none = { kappa: null, observed, byChance, se: null, low: null, high: null, seNull: null, z: null, p: null };
  // Only one category in use by both: agreement and chance are the same thing, and rounding must not tell otherwise.
  if (!(1 - byChance > 1e-14)) return none;
  const kappa = (observed - byChance) / (1 - byChance);
  const rowWeights = places.map((i) => sumOver((j) => column(j) * w(i, j)));
  const columnWeights = places.map((j) => sumOver((i) => row(i) * w(i, j)));
  const both = (i: number, j: number): number => (rowWeights[i] as number) + (columnWeights[j] as number);
  const squares = sumOver((i) => sumOver((j) => share(i, j) * (w(i, j) - both(i, j) * (1 - kappa)) ** 2));
  const nullSquares = sumOver((i) => sumOver((j) => row(i) * column(j) * (w(i, j) - both(i, j)) ** 2));
  const error = (sum: number, centre: number): number => Math.sqrt(Math.max(0, sum - centre ** 2) / n) / (1 - byChance);
  const se = error(squares, kappa - byChance * (1 - kappa));
  const seNull = error(nullSquares, byChance);
  const z = seNull > 1e-12 ? kappa / seNull : null;
  const half = normalQuantile((1 + confidence) / 2) * se;
  return { kappa, observed, byChance, se, low: Math.max(-1, kappa - half), high: Math.min(1, kappa + half), seNull, z, p: z === null ? null : normalUpperTail(z) };
}

function weightOf(weights: KappaWeights, steps: number, most: number): number {
  if (weights === 'none') return steps === 0 ? 1 : 0;
  return 1 - (weights === 'linear' ? steps / most : (steps / most) ** 2);
}
