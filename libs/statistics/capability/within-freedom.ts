import type { ChartKind } from '../charts/limits.js';
import { chartConstants } from '../charts/constants.js';
import { logGamma } from '../distributions/gamma.js';

/**
 * Effective degrees of freedom of the within-subgroup sigma: those of the chi distribution whose relative variance is
 * that of the estimate. Source: Patnaik 1950, "The use of mean range as an estimator of variance in statistical
 * tests", Biometrika 37; the d2* tables of Duncan, Quality Control and Industrial Statistics, are made the same way.
 *   ranges           relative variance sum (d3/d2)^2 / k^2 over the k subgroups
 *   sds, equal n     (1-c4^2)/c4^2 / k
 *   sds, unequal n   none needed: the pooled sd has sum (n_i - 1) exactly
 *   moving ranges    they overlap: see movingRangeVariance
 * @param sizes readings of each subgroup that entered the estimate (each 2 or more); for 'i-mr' the lengths of the
 *   unbroken stretches of individuals (each 2 or more)
 * @throws RangeError when empty
 */
export function withinFreedom(kind: ChartKind, sizes: readonly number[]): number {
  const [first] = sizes;
  if (first === undefined) throw new RangeError('withinFreedom: needs at least 1 subgroup, 0 given');
  if (kind === 'i-mr') return freedomOf(movingRangeVariance(sizes));
  if (kind === 'xbar-s' && !sizes.every((n) => n === first)) return sizes.reduce((sum, n) => sum + n - 1, 0);
  const variance = sizes.reduce((sum, n) => {
    const { d2, d3, c4 } = chartConstants(n);
    return sum + (kind === 'xbar-r' ? (d3 / d2) ** 2 : (1 - c4 * c4) / (c4 * c4));
  }, 0);
  return freedomOf(variance / sizes.length ** 2);
}

/**
 * Relative variance of MRbar from independent normal readings. One moving range has relative variance pi/2 - 1, two
 * neighbours share a reading and have relative covariance sqrt(3)/2 + pi/12 - 1 (mean of |XY| for correlation -1/2,
 * Nabeya 1951); together 0.826/m for long series, the value of Hoel 1946 for the mean successive difference.
 */
function movingRangeVariance(stretches: readonly number[]): number {
  let ranges = 0;
  let neighbours = 0;
  for (const length of stretches) {
    ranges += length - 1;
    neighbours += length - 2;
  }
  return (ranges * (Math.PI / 2 - 1) + 2 * neighbours * (Math.sqrt(3) / 2 + Math.PI / 12 - 1)) / ranges ** 2;
}

/** The nu for which chi/mean(chi) has this variance, 1/c4(nu+1)^2 - 1: decreasing in nu, so found by bisection. */
function freedomOf(relativeVariance: number): number {
  let low = 0.05;
  let high = 1 + 1 / relativeVariance;
  for (let turn = 0; turn < 100; turn += 1) {
    const nu = (low + high) / 2;
    const variance = (nu / 2) * Math.exp(2 * (logGamma(nu / 2) - logGamma((nu + 1) / 2))) - 1;
    if (variance > relativeVariance) low = nu;
    else high = nu;
  }
  return (low + high) / 2;
}
