import { mean } from '../numeric/mean.js';
import { baselineLimits, limitsForSize } from './limits.js';
import { type Lines, type Panel, panelOf } from './panel.js';
import { subgroupStatistics } from './subgroup.js';

export type TimeChart = {
  readonly meanTime: number;
  readonly method: 'exponential' | 'power';
  /** For 'power': centre and sigma of the transformed times. */
  readonly transformed: { readonly centre: number; readonly sigma: number; readonly values: readonly (number | null)[] } | null;
  readonly panel: Panel;
};

/** Exponent of the transformation: an exponential time to this power is nearly normal (a Weibull of shape 3.6). */
export const POWER = 1 / 3.6;

/**
 * Chart of the times between events (leakers, stops), with limits of the exponential distribution: probability alpha
 * below lower = -mean ln(1-alpha) and above upper = -mean ln(alpha); the centre line is the median, mean ln 2.
 * A time BELOW the lower limit is too short: events have become more frequent.
 * The mean of the times is the unbiased estimate, and the limits, being multiples of it, are unbiased as well.
 * Method 'power' takes the times to the power 1/3.6, charts them as individuals with three-sigma limits by moving
 * range, and takes centre and limits back into time; for times that only resemble an exponential.
 * Sources: exponential quantiles by definition (NIST/SEMATECH e-Handbook 1.3.6.6.7); Nelson 1994, "A control chart for
 * parts-per-million nonconforming items", Journal of Quality Technology 26, and Montgomery, Introduction to Statistical
 * Quality Control, "time-between-events" (from memory).
 * @param times 0 or more, in any one unit of time; null = unknown, no point
 * @param alpha false alarm a side, below 1/2; 'power' has that of three sigma, 0.00135, by its nature
 * @throws RangeError when a time is negative or not finite, none is above 0, too few are given for the moving range, or alpha is out of range or not 0.00135 with 'power'
 */
export function timeChart(times: readonly (number | null)[], alpha = 0.00135, method: 'exponential' | 'power' = 'exponential'): TimeChart {
  if (!(alpha > 0 && alpha < 0.5)) throw new RangeError(`timeChart: needs a false-alarm probability above 0 and below 0.5, ${alpha} given`);
  times.forEach((time, index) => {
    if (time !== null && !(time >= 0 && Number.isFinite(time))) throw new RangeError(`timeChart: needs times of 0 or more, time ${index + 1} is ${time}`);
  });
  const present = times.filter((time) => time !== null);
  if (!present.some((time) => time > 0)) throw new RangeError('timeChart: needs at least 1 time above 0, none given');
  const meanTime = mean(present);
  if (method === 'exponential') {
    const lines: Lines = { centre: meanTime * Math.LN2, lower: -meanTime * Math.log1p(-alpha), upper: -meanTime * Math.log(alpha), sigma: null };
    return { meanTime, method, transformed: null, panel: panelOf('timeChart', 'time', times, () => lines) };
  }
  if (alpha !== 0.00135) throw new RangeError(`timeChart: needs a false-alarm probability of 0.00135 with the power method, whose limits are three sigma, ${alpha} given`);
  const values = times.map((time) => (time === null ? null : time ** POWER));
  const { mean: limits } = limitsForSize(baselineLimits('i-mr', values.map((value) => subgroupStatistics([value]))), 1);
  const back = (value: number): number => value ** (1 / POWER);
  // A lower limit below 0 has no time that could lie beyond it.
  const lines: Lines = { centre: back(limits.centre), lower: limits.lower > 0 ? back(limits.lower) : null, upper: back(limits.upper), sigma: null };
  return { meanTime, method, transformed: { centre: limits.centre, sigma: limits.sigma, values }, panel: panelOf('timeChart', 'time', times, () => lines) };
}
