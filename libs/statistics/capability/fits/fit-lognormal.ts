import { standardDeviation } from '../../numeric/standard-deviation.js';
import { excessOver } from './excess.js';
import { type Likelihood, likelihood, type LognormalParameters } from './family.js';

/**
 * Lognormal above a known threshold by maximum likelihood: mean and sd (divisor n) of the logarithms.
 * Source: Aitchison & Brown 1957, The Lognormal Distribution, chapter 5.
 * @param threshold in the unit of the values; every value lies above it
 * @throws RangeError under 3 values, when they do not vary, or when one is not above the threshold
 */
export function fitLognormal(values: ArrayLike<number>, threshold = 0): LognormalParameters & Likelihood {
  const { n, scale, logs, meanLog } = excessOver(values, threshold, 'fitLognormal');
  const sigma = standardDeviation(logs) * Math.sqrt((n - 1) / n);
  const mu = Math.log(scale) + meanLog;
  return { family: 'lognormal', threshold, mu, sigma, ...likelihood('lognormal', n, -n * (mu + Math.log(sigma) + 0.5 * Math.log(2 * Math.PI) + 0.5)) };
}
