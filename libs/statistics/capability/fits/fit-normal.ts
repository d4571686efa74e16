import { varies } from '../../charts/limits-basis.js';
import { mean as meanOf } from '../../numeric/mean.js';
import { standardDeviation } from '../../numeric/standard-deviation.js';
import { type Likelihood, likelihood, type NormalParameters } from './family.js';

/**
 * Normal by maximum likelihood: the sd has divisor n, unlike that of Pp. Source: Fisher 1922, "On the mathematical
 * foundations of theoretical statistics", Philosophical Transactions A 222.
 * @throws RangeError under 3 values, when one is NaN or infinite, or when they do not vary
 */
export function fitNormal(values: ArrayLike<number>): NormalParameters & Likelihood {
  const n = values.length;
  if (n < 3) throw new RangeError(`fitNormal: needs at least 3 values, ${n} given`);
  const mean = meanOf(values);
  const sample = standardDeviation(values, 'fitNormal');
  if (!varies(sample, mean)) throw new RangeError('fitNormal: needs values that vary, all alike to the resolution of the gauge given');
  const sd = sample * Math.sqrt((n - 1) / n);
  return { family: 'normal', mean, sd, ...likelihood('normal', n, -n * (Math.log(sd) + 0.5 * Math.log(2 * Math.PI) + 0.5)) };
}
