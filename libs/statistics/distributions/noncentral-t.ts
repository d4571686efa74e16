import { findRoot } from '../numeric/find-root.js';
import { gaussLegendre } from '../numeric/gauss-legendre.js';
import { normalCdf } from './normal.js';
import { poissonTerm } from './saddle-point.js';

const RULE = gaussLegendre(40);
const LARGEST_NU = 1e7;
const LARGEST = 1e6;

/**
 * P(T <= t) for T = (Z + delta) / sqrt(chi-square(nu) / nu).
 * The integral of Phi(t s - delta) over the density of s = sqrt(chi-square / nu), by Gauss-Legendre panels that are
 * narrow against both the density and the step of Phi. Source: Johnson, Kotz & Balakrishnan 1995, Continuous Univariate
 * Distributions, vol. 2, chapter 31. Absolute error below 1e-13.
 * @param nu degrees of freedom, 1 to 1e7, may be fractional
 * @param delta noncentrality, up to 1e6 in size, as t
 * @throws RangeError outside these
 */
export function noncentralTCdf(t: number, nu: number, delta: number): number {
  requireArguments(nu, delta, 'noncentralTCdf');
  if (!(Math.abs(t) <= LARGEST)) throw new RangeError(`noncentralTCdf: needs a t from -${LARGEST} to ${LARGEST}, ${t} given`);
  const width = 9 / Math.sqrt(nu);
  const from = Math.max(0, 1 - width);
  const to = 1 + width;
  // The density at s = 1, near its peak, is a Poisson term; from there it falls by a factor without cancellation.
  const peak = nu * poissonTerm(nu / 2, nu / 2);
  const density = (s: number): number => (s === 0 ? 0 : peak * Math.exp((nu - 1) * Math.log1p(s - 1) - (nu / 2) * (s - 1) * (s + 1)));
  const integral = (a: number, b: number): number => {
    if (!(b > a)) return 0;
    const panel = Math.min(0.75 / Math.sqrt(nu), 3 / Math.max(Math.abs(t), 1e-9));
    const panels = Math.min(4000, Math.ceil((b - a) / panel));
    const half = (b - a) / panels / 2;
    let sum = 0;
    for (let k = 0; k < panels; k += 1) {
      const middle = a + (2 * k + 1) * half;
      for (let i = 0; i < RULE.nodes.length; i += 1) {
        const s = middle + half * (RULE.nodes[i] as number);
        sum += (RULE.weights[i] as number) * density(s) * normalCdf(t * s - delta);
      }
    }
    return sum * half;
  };
  // Where Phi is 0 or 1 to the last digit the panels need not be narrow: the interval is cut to where it moves.
  const edges = t === 0 ? [from, to] : [(delta - 9) / t, (delta + 9) / t].map((s) => Math.min(to, Math.max(from, s))).sort((a, b) => a - b);
  const [left, right] = edges as [number, number];
  const settled = t >= 0 ? smoothMass(density, right, to, nu) : smoothMass(density, from, left, nu);
  return Math.min(1, Math.max(0, integral(left, right) + settled));
}

/**
 * The t with noncentralTCdf(t) = p. Relative error below 1e-10 where p is between 1e-10 and 1 - 1e-10.
 * @throws RangeError when p is not strictly between 0 and 1, nu or delta is outside noncentralTCdf's, or t is beyond 1e6
 */
export function noncentralTQuantile(p: number, nu: number, delta: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`noncentralTQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  requireArguments(nu, delta, 'noncentralTQuantile');
  const distance = (t: number): number => noncentralTCdf(t, nu, delta) - p;
  let step = 1 + Math.abs(delta);
  let low = delta - step;
  let high = delta + step;
  for (; low > -LARGEST && distance(low) > 0; step *= 2) low = Math.max(-LARGEST, low - step);
  for (; high < LARGEST && distance(high) < 0; step *= 2) high = Math.min(LARGEST, high + step);
  if (low < -LARGEST || high > LARGEST || distance(low) > 0 || distance(high) < 0) throw new RangeError(`noncentralTQuantile: needs a quantile below ${LARGEST} in size, p ${p}, nu ${nu} and delta ${delta} given`);
  return findRoot(distance, low, high);
}

/** Mass of the density alone, where Phi is 1. */
function smoothMass(density: (s: number) => number, from: number, to: number, nu: number): number {
  if (!(to > from)) return 0;
  const panels = Math.ceil((to - from) / (0.75 / Math.sqrt(nu)));
  const half = (to - from) / panels / 2;
  let sum = 0;
  for (let k = 0; k < panels; k += 1) {
    const middle = from + (2 * k + 1) * half;
    for (let i = 0; i < RULE.nodes.length; i += 1) sum += (RULE.weights[i] as number) * density(middle + half * (RULE.nodes[i] as number));
  }
  return sum * half;
}

function requireArguments(nu: number, delta: number, caller: string): void {
  if (!(nu >= 1 && nu <= LARGEST_NU)) throw new RangeError(`${caller}: needs degrees of freedom from 1 to ${LARGEST_NU}, ${nu} given`);
  if (!(Math.abs(delta) <= LARGEST)) throw new RangeError(`${caller}: needs a noncentrality from -${LARGEST} to ${LARGEST}, ${delta} given`);
}
