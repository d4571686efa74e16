import { normalCdf, normalQuantile } from './normal.js';

/* Lognormal: the logarithm is normal with mean mu and standard deviation sigma. Source: Aitchison & Brown 1957, The Lognormal Distribution. */

/** P(X <= x), 0 for x of 0 and below. @throws RangeError when sigma is not positive and finite, mu or x not finite */
export function lognormalCdf(x: number, mu: number, sigma: number): number {
  requireArguments(mu, sigma, 'lognormalCdf');
  if (!Number.isFinite(x)) throw new RangeError(`lognormalCdf: needs a finite value, ${x} given`);
  return x <= 0 ? 0 : normalCdf((Math.log(x) - mu) / sigma);
}

/** The x with lognormalCdf(x) = p. @throws RangeError when p is not strictly between 0 and 1, sigma not positive, or x beyond the range of numbers */
export function lognormalQuantile(p: number, mu: number, sigma: number): number {
  requireArguments(mu, sigma, 'lognormalQuantile');
  if (!(p > 0 && p < 1)) throw new RangeError(`lognormalQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  const x = Math.exp(mu + sigma * normalQuantile(p));
  if (!Number.isFinite(x)) throw new RangeError(`lognormalQuantile: needs a smaller mu or sigma, ${mu} and ${sigma} given lead beyond the range of numbers`);
  return x;
}

function requireArguments(mu: number, sigma: number, caller: string): void {
  if (!Number.isFinite(mu)) throw new RangeError(`${caller}: needs a finite mu, ${mu} given`);
  if (!(sigma > 0 && Number.isFinite(sigma))) throw new RangeError(`${caller}: needs a positive sigma, ${sigma} given`);
}
