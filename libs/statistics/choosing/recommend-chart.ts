import { varianceComponents } from './variance-components.js';

/** How the readings of a check belong together. */
export type CheckShape = {
  /** In time order; one list a check. */
  readonly subgroups: readonly (readonly (number | null)[])[];
  /** What the readings of one check are: separate pieces, or places on one and the same piece. */
  readonly members: 'pieces' | 'positions';
  /** Products that share the chart; 2 or more ask for deviations from each one's nominal. */
  readonly products?: number;
};

export type Recommendation = {
  readonly chart: 'i-mr' | 'xbar-r' | 'xbar-s' | 'between-within' | 'deviation-from-nominal';
  readonly reason: 'several-products' | 'single-readings' | 'positions-of-one-piece' | 'checks-differ-by-more-than-their-spread' | 'small-even-subgroups' | 'large-or-uneven-subgroups';
  /** Readings a check: fewest and most that are present. */
  readonly sizes: { readonly least: number; readonly most: number };
  /** Share of the variation that lies between checks, 0 to 1, and the p of its test; null where it cannot be told apart. */
  readonly between: { readonly share: number; readonly p: number } | null;
};

/** A range wastes readings beyond this; Montgomery, Introduction to Statistical Quality Control, "Control charts for X-bar and S". */
const LARGEST_FOR_RANGE = 10;
/** Common practice, no source: a share this large, and not by chance, makes limits from the spread within useless. */
const LARGE_SHARE = 0.2;
const NOT_BY_CHANCE = 0.001;

/**
 * Which chart fits readings that come like this, and why.
 * Limits must come from variation that the plotted statistic has too. Places round one piece do not vary like the next
 * piece, and pieces pulled together may vary less than the process always does from pull to pull; both make limits from
 * the spread within a check too narrow, so the means are then charted as individuals beside their moving range.
 * Sources: rational subgroups, Shewhart 1931, Economic Control of Quality of Manufactured Product; Woodall & Thomas
 * 1995, "Statistical process control with several components of common cause variability", IIE Transactions 27.
 * A large share between checks may also be an assigned cause: that is for the person to look for first.
 * @throws RangeError without a check that holds a reading, or when a reading is not finite or too large
 */
export function recommendChart({ subgroups, members, products = 1 }: CheckShape): Recommendation {
  const caller = 'recommendChart';
  if (!Number.isInteger(products) || products < 1) throw new RangeError(`${caller}: needs a whole number of products, 1 or more, ${products} given`);
  const counts = subgroups.map((readings) => readings.reduce<number>((sum, reading) => sum + (reading === null ? 0 : 1), 0)).filter((count) => count > 0);
  if (counts.length === 0) throw new RangeError(`${caller}: needs at least 1 check with a reading, 0 given`);
  const sizes = { least: counts.reduce((a, b) => Math.min(a, b)), most: counts.reduce((a, b) => Math.max(a, b)) };
  const between = shareBetween(subgroups, counts);
  const say = (chart: Recommendation['chart'], reason: Recommendation['reason']): Recommendation => ({ chart, reason, sizes, between });
  if (products > 1) return say('deviation-from-nominal', 'several-products');
  if (sizes.most === 1) return say('i-mr', 'single-readings');
  if (members === 'positions') return say('between-within', 'positions-of-one-piece');
  if (between !== null && between.share >= LARGE_SHARE && between.p < NOT_BY_CHANCE) return say('between-within', 'checks-differ-by-more-than-their-spread');
  if (sizes.most <= LARGEST_FOR_RANGE && sizes.least === sizes.most) return say('xbar-r', 'small-even-subgroups');
  return say('xbar-s', 'large-or-uneven-subgroups');
}

function shareBetween(subgroups: CheckShape['subgroups'], counts: readonly number[]): Recommendation['between'] {
  // The refusal of a number that is none comes from here as well, so it is asked even where no share can be had.
  const values = subgroups.flat();
  const labels = subgroups.flatMap((readings, check) => readings.map(() => check));
  values.forEach((value, i) => {
    if (value !== null && !Number.isFinite(value)) throw new RangeError(`recommendChart: needs finite readings, ${String(value)} given at ${i + 1}`);
  });
  if (counts.length < 2 || counts.every((count) => count === 1)) return null;
  const [outer] = varianceComponents({ names: ['check'], labels: [labels], values }).components;
  return outer?.share == null || outer.test === null ? null : { share: outer.share, p: outer.test.p };
}
