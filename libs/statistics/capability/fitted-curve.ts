import { normalDensity } from '../distributions/normal.js';

const MOST_POINTS = 10_000;

/** Expected count in a bin centred on x; x in the unit of the values. */
export type FittedCurve = { readonly x: number[]; readonly count: number[] };

/**
 * Normal curve over a histogram, as the count that a bin of this width would hold: n * width * phi((x-mean)/sigma) / sigma.
 * It shows what the index assumes, next to what was measured; it is not a fit that was tested.
 * @param sigma in the unit of the values, positive
 * @param width bin width of the histogram
 * @param points how many x, evenly from mean - 4 sigma to mean + 4 sigma
 * @throws RangeError when sigma, width or n is not positive, the mean is not finite, fewer than 2 or more than 10,000 points are asked for, or a point is beyond the range of numbers
 */
export function fittedCurve(mean: number, sigma: number, n: number, width: number, points = 81): FittedCurve {
  if (!Number.isFinite(mean)) throw new RangeError(`fittedCurve: needs a finite mean, ${mean} given`);
  for (const [name, value] of [['sigma', sigma], ['bin width', width], ['number of values', n]] as const) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`fittedCurve: needs a positive ${name}, ${value} given`);
  }
  if (!Number.isInteger(points) || points < 2 || points > MOST_POINTS) throw new RangeError(`fittedCurve: needs a whole number of points from 2 to ${MOST_POINTS}, ${points} given`);
  const z = Array.from({ length: points }, (_, i) => -4 + (8 * i) / (points - 1));
  const x = z.map((value) => mean + value * sigma);
  const count = z.map((value) => (n * width * normalDensity(value)) / sigma);
  if (![...x, ...count].every(Number.isFinite)) throw new RangeError('fittedCurve: needs a mean, sigma and bin width of like size, those given lead beyond the range of numbers');
  return { x, count };
}
