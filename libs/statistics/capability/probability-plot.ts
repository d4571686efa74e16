import { betaQuantile } from '../distributions/beta.js';
import { normalQuantile } from '../distributions/normal.js';
import { fittedQuantile, type FamilyName, type Fit } from './fits/family.js';
import { fitGamma } from './fits/fit-gamma.js';
import { fitLognormal } from './fits/fit-lognormal.js';
import { fitNormal } from './fits/fit-normal.js';
import { fitWeibull } from './fits/fit-weibull.js';
import { sortedCopy } from './sorted-copy.js';

/** One value in its order; x, line, low and high in the unit of the values, p and the score without. */
export type PlotPoint = {
  /** Place in rising order, from 1. */
  readonly order: number;
  readonly value: number;
  /** Plotting position. */
  readonly p: number;
  /** Where p stands on the straightened axis: normal quantile of p (normal, lognormal), ln(-ln(1-p)) (Weibull), quantile of the fitted gamma with scale 1. */
  readonly score: number;
  /** The fitted distribution at p, and the band at the same order. */
  readonly line: number;
  readonly low: number;
  readonly high: number;
};

export type ProbabilityPlot = {
  readonly fit: Fit;
  readonly points: readonly PlotPoint[];
  /** How many values are not drawn: of very many every so-manieth, with all of both ends. */
  readonly leftOut: number;
  /** Drawn values outside the band. */
  readonly outside: number;
};

export type PlotOptions = { readonly threshold?: number; readonly position?: 'median-rank' | 'blom'; readonly confidence?: number };

/** Points drawn at most, and how many of them at each end without a gap. */
const MOST_POINTS = 500;
const WHOLE_ENDS = 50;

/**
 * Points of a probability plot of values against a family fitted by maximum likelihood, with a band.
 * Plotting positions: the median of the i-th of n uniform order statistics, beta(i, n-i+1) ("median rank"), or
 * (i-3/8)/(n+1/4) (Blom 1958, Statistical Estimates and Transformed Beta-Variables).
 * Band, point by point: fitted quantiles at the (1-confidence)/2 and (1+confidence)/2 quantiles of beta(i, n-i+1), the
 * distribution of the i-th order statistic (David & Nagaraja 2003, Order Statistics, section 2.1). Each point of a sample from
 * the fitted distribution is inside with this probability, a little more because the parameters came from the same values; some
 * point of many is outside almost always. The test of the whole is goodnessOfFit.
 * @throws RangeError under 3 values, when they do not vary or one is not finite, is not above the threshold (not asked of
 *   normal), or the confidence is not strictly between 0 and 1
 */
export function probabilityPlot(values: ArrayLike<number>, family: FamilyName, options: PlotOptions = {}): ProbabilityPlot {
  const { threshold = 0, position = 'median-rank', confidence = 0.95 } = options;
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`probabilityPlot: needs a confidence strictly between 0 and 1, ${confidence} given`);
  const fit = family === 'normal' ? fitNormal(values) : family === 'lognormal' ? fitLognormal(values, threshold) : family === 'weibull' ? fitWeibull(values, threshold) : fitGamma(values, threshold);
  const sorted = sortedCopy(values);
  const n = sorted.length;
  const risk = (1 - confidence) / 2;
  const orders = drawnOrders(n);
  const points = orders.map((order): PlotPoint => {
    const p = position === 'blom' ? (order - 0.375) / (n + 0.25) : betaQuantile(0.5, order, n - order + 1);
    return {
      order, p, value: sorted[order - 1] as number, score: scoreOf(fit, p), line: fittedQuantile(fit, p),
      low: fittedQuantile(fit, betaQuantile(risk, order, n - order + 1)), high: fittedQuantile(fit, betaQuantile(1 - risk, order, n - order + 1)),
    };
  });
  return { fit, points, leftOut: n - orders.length, outside: points.filter(({ value, low, high }) => value < low || value > high).length };
}

function scoreOf(fit: Fit, p: number): number {
  if (fit.family === 'weibull') return Math.log(-Math.log1p(-p));
  return fit.family === 'gamma' ? fittedQuantile({ family: 'gamma', threshold: 0, shape: fit.shape, scale: 1 }, p) : normalQuantile(p);
}

/** All orders, or of very many both ends whole and even steps between. */
function drawnOrders(n: number): number[] {
  if (n <= MOST_POINTS) return Array.from({ length: n }, (_, i) => i + 1);
  const between = MOST_POINTS - 2 * WHOLE_ENDS;
  const first = WHOLE_ENDS + 1;
  const last = n - WHOLE_ENDS;
  const middle = Array.from({ length: between }, (_, i) => first + Math.floor(((last - first) * i) / (between - 1)));
  return [...Array.from({ length: WHOLE_ENDS }, (_, i) => i + 1), ...middle, ...Array.from({ length: WHOLE_ENDS }, (_, i) => last + 1 + i)];
}
