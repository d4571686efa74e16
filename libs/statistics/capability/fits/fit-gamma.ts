import { logGamma } from '../../distributions/gamma.js';
import { digamma } from '../../distributions/polygamma.js';
import { findRoot } from '../../numeric/find-root.js';
import { excessOver } from './excess.js';
import { type Likelihood, likelihood, type GammaParameters } from './family.js';

/** Above this shape a gamma is a normal to four digits at three sigma, and its own tails take ever longer to compute. */
export const LARGEST_GAMMA_SHAPE = 1e6;

/**
 * Gamma above a known threshold by maximum likelihood: the shape k solves ln k - digamma(k) = ln(mean) - mean(ln x), the
 * scale is mean / k. Source: Thom 1958, "A note on the gamma distribution", Monthly Weather Review 86(4); Choi & Wette
 * 1969, Technometrics 11(4). Digits: 1e-9 up to a shape of 1e4, 1e-7 up to 1e6.
 * @param threshold in the unit of the values; every value lies above it
 * @throws RangeError under 3 values, when they do not vary, when one is not above the threshold, or the shape exceeds 1e6
 */
export function fitGamma(values: ArrayLike<number>, threshold = 0): GammaParameters & Likelihood {
  const { n, scale: mean, meanLog } = excessOver(values, threshold, 'fitGamma');
  const wanted = -meanLog;
  if (!(wanted > 0.5 / LARGEST_GAMMA_SHAPE)) throw new RangeError(`fitGamma: needs values that vary by more than a thousandth of their mean above the threshold; those given are as normal as gamma (shape above ${LARGEST_GAMMA_SHAPE})`);
  // 1/(2k) < ln k - digamma(k) < 1/k for every k, which brackets the root.
  const shape = findRoot((k) => logLessDigamma(k) - wanted, 0.4999 / wanted, 1.0001 / wanted);
  const logLikelihood = n * ((shape - 1) * (Math.log(mean) + meanLog) - shape - shape * Math.log(mean / shape) - logGamma(shape));
  return { family: 'gamma', threshold, shape, scale: mean / shape, ...likelihood('gamma', n, logLikelihood) };
}

/** ln k - digamma(k), by its own series for large k where the difference would lose digits (Abramowitz & Stegun 1964, 6.3.18). */
function logLessDigamma(k: number): number {
  if (k < 15) return Math.log(k) - digamma(k);
  const r = 1 / (k * k);
  return 0.5 / k + r * (1 / 12 - r * (1 / 120 - r * (1 / 252 - r * (1 / 240 - r / 132))));
}
