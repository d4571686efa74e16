import { logNormalUpperTail, normalCdf, normalDensity } from '../distributions/normal.js';

/*
 * log P(Z <= z) for millions of z: a Taylor polynomial in each of 32 cells a sigma, instead of a logarithm and an
 * exponential a point. The hazard h = phi/Phi obeys h' = -h (z + h), so all coefficients follow from h at the middle of
 * the cell by multiplying power series; the logarithm is the integral of h. With a half width of 1/64 and degree 6 the
 * first term left out is below 1e-16.
 */
const CELLS_A_SIGMA = 32;
const REACH = 9;
const COEFFICIENTS = 7;
const CELLS = 2 * REACH * CELLS_A_SIGMA;

let table: Float64Array | undefined;

/**
 * Sum over sorted z of (2i+1) (log P(Z <= z_i) + log P(Z > z_(n-1-i))), i from 0, plus n^2: what the Anderson-Darling
 * statistic is -1/n times. The n^2 is put in first and the rounding of each addition is carried along (Neumaier 1974), so
 * that the small difference of two numbers near n^2 keeps its digits: 1e-10 of the statistic at a million values.
 * @param sorted values in rising order, standardised here as (value - centre) / sd
 * @throws RangeError when a value is not finite or lies so far out that the sum is beyond the range of numbers
 */
export function weightedLogTails(sorted: Float64Array, centre: number, sd: number): number {
  table ??= taylorTable();
  const coefficients = table;
  const n = sorted.length;
  let sum = n * n;
  let rest = 0;
  for (let i = 0; i < n; i += 1) {
    const z = ((sorted[i] as number) - centre) / sd;
    let term: number;
    if (z > -REACH && z < REACH) {
      // Each point is met once: with its weight from below for the lower tail, from above for the upper one.
      const place = (z + REACH) * CELLS_A_SIGMA;
      const cell = Math.floor(place);
      const t = (place - cell - 0.5) / CELLS_A_SIGMA;
      const a = cell * COEFFICIENTS;
      const b = (CELLS - 1 - cell) * COEFFICIENTS;
      term = (2 * i + 1) * polynomial(coefficients, a, t) + (2 * (n - i) - 1) * polynomial(coefficients, b, -t);
    } else term = (2 * i + 1) * logNormalUpperTail(-z) + (2 * (n - i) - 1) * logNormalUpperTail(z);
    const next = sum + term;
    rest += Math.abs(sum) >= Math.abs(term) ? sum - next + term : term - next + sum;
    sum = next;
  }
  if (!Number.isFinite(sum + rest)) throw new RangeError('weightedLogTails: needs finite values within reach of their centre, others given');
  return sum + rest;
}

function polynomial(c: Float64Array, at: number, t: number): number {
  return (c[at] as number) + t * ((c[at + 1] as number) + t * ((c[at + 2] as number) + t * ((c[at + 3] as number) + t * ((c[at + 4] as number) + t * ((c[at + 5] as number) + t * (c[at + 6] as number))))));
}

function taylorTable(): Float64Array {
  const all = new Float64Array(CELLS * COEFFICIENTS);
  for (let cell = 0; cell < CELLS; cell += 1) {
    const z = (cell + 0.5) / CELLS_A_SIGMA - REACH;
    const h = [normalDensity(z) / normalCdf(z)];
    for (let k = 0; k < COEFFICIENTS - 2; k += 1) {
      let product = z * (h[k] as number) + (h[k - 1] ?? 0);
      for (let j = 0; j <= k; j += 1) product += (h[j] as number) * (h[k - j] as number);
      h.push(-product / (k + 1));
    }
    all[cell * COEFFICIENTS] = logNormalUpperTail(-z);
    h.forEach((value, k) => { all[cell * COEFFICIENTS + k + 1] = value / (k + 1); });
  }
  return all;
}
