import { findRoot } from '../../numeric/find-root.js';
import { standardDeviation } from '../../numeric/standard-deviation.js';
import { excessOver } from './excess.js';
import { type Likelihood, likelihood, type WeibullParameters } from './family.js';

/**
 * Weibull above a known threshold by maximum likelihood. The shape k is the one root of the rising function
 * sum(x^k ln x)/sum(x^k) - 1/k - mean(ln x); the scale is (mean x^k)^(1/k).
 * Source: Cohen 1965, "Maximum likelihood estimation in the Weibull distribution", Technometrics 7(4). Digits: 1e-10.
 * @param threshold in the unit of the values; every value lies above it
 * @throws RangeError under 3 values, when they do not vary, or when one is not above the threshold
 */
export function fitWeibull(values: ArrayLike<number>, threshold = 0): WeibullParameters & Likelihood {
  const { n, scale: unit, logs, meanLog } = excessOver(values, threshold, 'fitWeibull');
  const top = logs.reduce((a, b) => Math.max(a, b));
  // Powers of quotients by the largest value lie between 0 and 1 and cannot overflow, whatever the shape.
  const powers = (k: number): { sum: number; weighted: number } => {
    let sum = 0;
    let weighted = 0;
    for (let i = 0; i < n; i += 1) {
      const below = (logs[i] as number) - top;
      const power = Math.exp(k * below);
      sum += power;
      weighted += power * below;
    }
    return { sum, weighted };
  };
  const distance = (k: number): number => {
    const { sum, weighted } = powers(k);
    return weighted / sum - 1 / k - (meanLog - top);
  };
  // The logarithms of a Weibull have the sd pi / (k sqrt 6).
  const start = Math.PI / (Math.sqrt(6) * standardDeviation(logs));
  let low = start / 2;
  let high = start * 2;
  for (let turn = 0; turn < 60 && distance(low) > 0; turn += 1) low /= 2;
  for (let turn = 0; turn < 60 && distance(high) < 0; turn += 1) high *= 2;
  const shape = findRoot(distance, low, high, { tolerance: 1e-12 * start });
  const logScale = Math.log(unit) + top + Math.log(powers(shape).sum / n) / shape;
  const scale = Math.exp(logScale);
  if (!(scale > 0 && Number.isFinite(scale))) throw new RangeError('fitWeibull: needs values of ordinary size, the scale of those given is beyond the range of numbers');
  const sumOfLogs = n * (Math.log(unit) + meanLog);
  return { family: 'weibull', threshold, shape, scale, ...likelihood('weibull', n, n * (Math.log(shape) - shape * logScale) + (shape - 1) * sumOfLogs - n) };
}
