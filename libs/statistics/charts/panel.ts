import type { PlottedStatistic } from '../rules/allowed-rules.js';
import { BEYOND_TOLERANCE, type Side } from '../rules/verdict.js';

/** What a panel plots; it decides which run rules may look at it. */
export type Statistic = Exclude<PlottedStatistic, 'median' | 'moving-average'> | 'gap' | 'time' | 'cusum-above' | 'cusum-below' | 'highest' | 'lowest';

/**
 * One panel of a chart, ready to be drawn: all arrays are as long as `points`, and null where there is nothing.
 * Centre and limits stand for each point by itself, because a subgroup of another size has other ones.
 * `sigma` is that of the plotted statistic; null where limits are probability limits or nothing varies.
 * `out` lists the points beyond a limit (0-based), by more than rounding; a point on the line is not beyond it.
 */
export type Panel = {
  readonly statistic: Statistic;
  readonly points: readonly (number | null)[];
  readonly centre: readonly (number | null)[];
  readonly lower: readonly (number | null)[];
  readonly upper: readonly (number | null)[];
  readonly sigma: readonly (number | null)[];
  readonly out: readonly { readonly index: number; readonly side: Side }[];
};

/** Lines of one point. A limit that does not exist is null, and nothing is beyond it. */
export type Lines = { readonly centre: number | null; readonly lower: number | null; readonly upper: number | null; readonly sigma: number | null };

export const NO_LINES: Lines = { centre: null, lower: null, upper: null, sigma: null };

/**
 * The panel of these points; `linesOf` is asked for every point, also for gaps (null), whose lines may be drawn.
 * @param caller opens the message
 * @throws RangeError when a point or a line is beyond the range of numbers: the readings were too large
 */
export function panelOf(caller: string, statistic: Statistic, points: readonly (number | null)[], linesOf: (index: number) => Lines): Panel {
  const centre: (number | null)[] = [];
  const lower: (number | null)[] = [];
  const upper: (number | null)[] = [];
  const sigma: (number | null)[] = [];
  const out: { index: number; side: Side }[] = [];
  points.forEach((point, index) => {
    const lines = linesOf(index);
    for (const value of [point, lines.centre, lines.lower, lines.upper, lines.sigma]) {
      if (value !== null && !Number.isFinite(value)) throw new RangeError(`${caller}: needs readings whose limits are within the range of numbers, point ${index + 1} has ${value}`);
    }
    centre.push(lines.centre);
    lower.push(lines.lower);
    upper.push(lines.upper);
    sigma.push(lines.sigma);
    const side = point === null ? null : sideOf(point, lines);
    if (side !== null) out.push({ index, side });
  });
  return { statistic, points: [...points], centre, lower, upper, sigma, out };
}

/** The side on which a point is out, if it is. */
export function sideOf(point: number, { lower, upper, sigma }: Lines): Side | null {
  const slack = (limit: number): number => BEYOND_TOLERANCE * (sigma ?? Math.abs(limit));
  if (upper !== null && point > upper + slack(upper)) return 'above';
  return lower !== null && point < lower - slack(lower) ? 'below' : null;
}

/** Three-sigma lines, cut at `least` and `most` where the statistic cannot go further; no limits where sigma is 0. */
export function symmetricLines(centre: number, sigma: number | null, least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY): Lines {
  if (sigma === null || !(sigma > 0)) return { ...NO_LINES, centre };
  return { centre, lower: Math.max(least, centre - 3 * sigma), upper: Math.min(most, centre + 3 * sigma), sigma };
}
