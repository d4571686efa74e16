import { binomialTerm } from './saddle-point.js';

/*
 * Number of marked units in a sample of n drawn without replacement from a lot.
 * The term is a quotient of three binomial terms (Loader 2000), which keeps its digits for lots of millions.
 */

/**
 * P(X = k) for `marked` units in a lot of `lot` and a sample of n. Relative error below 1e-11.
 * @throws RangeError when a count is not whole, or marked or n is negative or above the lot
 */
export function hypergeometricPmf(k: number, lot: number, marked: number, n: number): number {
  requireCounts(k, lot, marked, n, 'hypergeometricPmf');
  return term(k, lot, marked, n);
}

/** P(X <= k), summed over the shorter side. @throws RangeError as hypergeometricPmf */
export function hypergeometricCdf(k: number, lot: number, marked: number, n: number): number {
  requireCounts(k, lot, marked, n, 'hypergeometricCdf');
  const least = Math.max(0, n + marked - lot);
  const most = Math.min(n, marked);
  if (k < least) return 0;
  if (k >= most) return 1;
  const mode = Math.floor(((n + 1) * (marked + 1)) / (lot + 2));
  return k <= mode ? Math.min(1, sumDown(k, least, lot, marked, n)) : Math.max(0, 1 - sumUp(k + 1, most, lot, marked, n));
}

/** From k down, where each term follows from the one above by a quotient of whole numbers. */
function sumDown(k: number, least: number, lot: number, marked: number, n: number): number {
  let last = term(k, lot, marked, n);
  let sum = last;
  for (let i = k; i > least && last > sum * 1e-18; i -= 1) {
    last *= (i / (marked - i + 1)) * ((lot - marked - n + i) / (n - i + 1));
    sum += last;
  }
  return sum;
}

function sumUp(k: number, most: number, lot: number, marked: number, n: number): number {
  let last = term(k, lot, marked, n);
  let sum = last;
  for (let i = k; i < most && last > sum * 1e-18; i += 1) {
    last *= ((marked - i) / (i + 1)) * ((n - i) / (lot - marked - n + i + 1));
    sum += last;
  }
  return sum;
}

function term(k: number, lot: number, marked: number, n: number): number {
  if (k < Math.max(0, n + marked - lot) || k > Math.min(n, marked)) return 0;
  if (n === 0 || n === lot) return 1;
  const p = n / lot;
  const q = (lot - n) / lot;
  return (binomialTerm(k, marked, p, q) * binomialTerm(n - k, lot - marked, p, q)) / binomialTerm(n, lot, p, q);
}

function requireCounts(k: number, lot: number, marked: number, n: number, caller: string): void {
  if (!Number.isSafeInteger(k)) throw new RangeError(`${caller}: needs a whole count, ${k} given`);
  if (!(Number.isSafeInteger(lot) && lot >= 1 && lot <= 1e9)) throw new RangeError(`${caller}: needs a whole lot size from 1 to 1,000,000,000, ${lot} given`);
  for (const [name, count] of [['marked units', marked], ['units in the sample', n]] as const) {
    if (!(Number.isSafeInteger(count) && count >= 0 && count <= lot)) throw new RangeError(`${caller}: needs a whole number of ${name} from 0 to ${lot}, ${count} given`);
  }
}
