import { logGamma } from '../distributions/gamma.js';
import { normalCdf, normalDensity } from '../distributions/normal.js';
import { gaussLegendre } from '../numeric/gauss-legendre.js';

/** Factors of the control charts for subgroups of n readings of a normal characteristic; all are without unit. */
export type ChartConstants = {
  readonly n: number;
  /** Mean and standard deviation of the range of n standard normal readings. */
  readonly d2: number;
  readonly d3: number;
  /** Mean of the sample standard deviation (divisor n-1) of n standard normal readings. */
  readonly c4: number;
  readonly A2: number;
  readonly A3: number;
  readonly B3: number;
  readonly B4: number;
  readonly D3: number;
  readonly D4: number;
};

/** Subgroup sizes the factors are computed for. */
export const LARGEST_SUBGROUP = 200;

/** Factor of the individuals chart, 3/d2(2); d2(2) is 2/sqrt(pi) exactly. Tables print 2.660, from d2 rounded to 1.128. */
export const E2 = 1.5 * Math.sqrt(Math.PI);

const known = new Map<number, ChartConstants>();

/**
 * Chart factors for one subgroup size, computed and then kept; good to 1e-9, so never the rounded figures of a table
 * and never the row of n = 25 for a larger subgroup.
 * Definitions: ASTM Manual on Presentation of Data and Control Chart Analysis (MNL 7), the factor tables' footnotes;
 * d2 after Tippett 1925, "On the extreme individuals and the range of samples taken from a normal population".
 * Lower factors that come out negative are 0: a range cannot be less than nothing.
 * @throws RangeError when n is not a whole number from 2 to 200; a single reading has neither range nor spread
 */
export function chartConstants(n: number): ChartConstants {
  const kept = known.get(n);
  if (kept !== undefined) return kept;
  if (!Number.isInteger(n) || n < 2 || n > LARGEST_SUBGROUP) {
    throw new RangeError(`chartConstants: needs a whole subgroup size from 2 to ${LARGEST_SUBGROUP}, ${n} given`);
  }
  const { d2, d3 } = rangeMoments(n);
  const c4 = Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
  const spreadOfRange = (3 * d3) / d2;
  const spreadOfDeviation = (3 * Math.sqrt(1 - c4 * c4)) / c4;
  const constants: ChartConstants = Object.freeze({
    n, d2, d3, c4,
    A2: 3 / (d2 * Math.sqrt(n)),
    A3: 3 / (c4 * Math.sqrt(n)),
    B3: Math.max(0, 1 - spreadOfDeviation),
    B4: 1 + spreadOfDeviation,
    D3: Math.max(0, 1 - spreadOfRange),
    D4: 1 + spreadOfRange,
  });
  known.set(n, constants);
  return constants;
}

// The normal readings are followed to nine sigma, the range to eighteen: what lies beyond is below 1e-18.
const REACH = 9;
const STEP = 0.1;
const RANGE_NODES = 80;

/**
 * Mean and sd of the range w of n standard normals from its distribution
 *   P(w > r) = n * integral phi(x) * ( [1-Phi(x)]^(n-1) - [Phi(x+r)-Phi(x)]^(n-1) ) dx,
 *   E w = integral P(w > r) dr,  E w^2 = integral 2 r P(w > r) dr.
 * The inner integrand dies away at both ends, where the plain trapezoidal rule converges geometrically; the outer one
 * starts abruptly at r = 0 and takes Gauss-Legendre nodes.
 */
function rangeMoments(n: number): { d2: number; d3: number } {
  const { nodes, weights } = gaussLegendre(RANGE_NODES);
  let first = 0;
  let second = 0;
  nodes.forEach((node, index) => {
    const r = REACH * (1 + node);
    const weight = REACH * (weights[index] as number);
    let beyond = 0;
    for (let k = -REACH / STEP; k <= REACH / STEP; k += 1) {
      const x = k * STEP;
      const above = normalCdf(-x);
      const outside = normalCdf(-x - r);
      beyond += normalDensity(x) * (above ** (n - 1) - (above - outside) ** (n - 1));
    }
    beyond *= n * STEP;
    first += weight * beyond;
    second += weight * 2 * r * beyond;
  });
  return { d2: first, d3: Math.sqrt(second - first * first) };
}
