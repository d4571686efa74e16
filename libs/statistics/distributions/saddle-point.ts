import { logGamma } from './gamma.js';

/*
 * Binomial and Poisson terms for real arguments without the cancellation of large log-gammas.
 * Source: C. Loader 2000, "Fast and accurate computation of binomial probabilities": Stirling error and deviance.
 */

const HALF_LOG_2_PI = 0.9189385332046728;
const REST = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156] as const;

/** log x! less its Stirling formula, for x >= 0; at 0 it is infinite and the callers do not ask. */
function stirlingError(x: number): number {
  if (x < 15) return logGamma(x + 1) - (x + 0.5) * Math.log(x) + x - HALF_LOG_2_PI;
  const square = 1 / (x * x);
  return REST.reduceRight((sum, coefficient) => sum * square + coefficient, 0) / x;
}

/** x log(x / m) + m - x, by its series where x and m are close and the three parts would cancel. */
function deviance(x: number, m: number): number {
  if (Math.abs(x - m) >= 0.1 * (x + m)) return x * Math.log(x / m) + m - x;
  const v = (x - m) / (x + m);
  let sum = (x - m) * v;
  let power = 2 * x * v;
  for (let j = 1; j < 1000; j += 1) {
    power *= v * v;
    const next = sum + power / (2 * j + 1);
    if (next === sum) break;
    sum = next;
  }
  return sum;
}

/**
 * Gamma(n+1) / (Gamma(x+1) Gamma(n-x+1)) p^x q^(n-x), the binomial term with real x between 0 and n.
 * Relative error below 1e-13 times (1 + the logarithm of the result).
 * @param q 1 - p, given apart because near p = 1 the subtraction would lose it
 * @throws RangeError when the arguments leave no finite term; for the rest they are the callers' to check
 */
export function binomialTerm(x: number, n: number, p: number, q: number): number {
  if (p === 0) return x === 0 ? 1 : 0;
  if (q === 0) return x === n ? 1 : 0;
  if (x === 0) return finite(Math.exp(p < 0.1 ? n * Math.log1p(-p) : n * Math.log(q)), 'binomialTerm');
  if (x === n) return finite(Math.exp(q < 0.1 ? n * Math.log1p(-q) : n * Math.log(p)), 'binomialTerm');
  const exponent = stirlingError(n) - stirlingError(x) - stirlingError(n - x) - deviance(x, n * p) - deviance(n - x, n * q);
  // Two roots: the product of a tiny x and its remainder may be no number any more.
  return finite(Math.exp(exponent) * (Math.sqrt(n / (n - x)) / Math.sqrt(2 * Math.PI * x)), 'binomialTerm');
}

/** m^x e^-m / Gamma(x+1), the Poisson term with real x >= 0 and mean m >= 0. @throws RangeError when the arguments leave no finite term */
export function poissonTerm(x: number, m: number): number {
  if (m === 0) return x === 0 ? 1 : 0;
  if (x === 0) return finite(Math.exp(-m), 'poissonTerm');
  return finite(Math.exp(-stirlingError(x) - deviance(x, m)) / Math.sqrt(2 * Math.PI * x), 'poissonTerm');
}

function finite(term: number, caller: string): number {
  if (!Number.isFinite(term)) throw new RangeError(`${caller}: needs counts and chances of 0 or more that belong together, those given leave no finite term`);
  return term;
}
