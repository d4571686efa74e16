import { gammaCdf, gammaQuantile, regularisedGammaUpper } from '../../distributions/gamma.js';
import { lognormalCdf, lognormalQuantile } from '../../distributions/lognormal.js';
import { normalCdf, normalQuantile, normalUpperTail } from '../../distributions/normal.js';
import { weibullCdf, weibullQuantile } from '../../distributions/weibull.js';

export const FAMILIES = ['normal', 'lognormal', 'weibull', 'gamma'] as const;
export type FamilyName = (typeof FAMILIES)[number];

/** mean, sd, scale and threshold in the unit of the values; mu and sigma of the logarithms; shape without unit. The threshold is given, not estimated. */
export type NormalParameters = { readonly family: 'normal'; readonly mean: number; readonly sd: number };
export type LognormalParameters = { readonly family: 'lognormal'; readonly threshold: number; readonly mu: number; readonly sigma: number };
export type WeibullParameters = { readonly family: 'weibull'; readonly threshold: number; readonly shape: number; readonly scale: number };
export type GammaParameters = { readonly family: 'gamma'; readonly threshold: number; readonly shape: number; readonly scale: number };
export type Parameters = NormalParameters | LognormalParameters | WeibullParameters | GammaParameters;

export type Likelihood = {
  readonly n: number;
  /** Natural logarithm of the density of the values, summed; depends on their unit, differences between families do not. */
  readonly logLikelihood: number;
  /** -2 logLikelihood + 4, two parameters being estimated (Akaike 1974). */
  readonly aic: number;
};
export type Fit = Parameters & Likelihood;

/** Share of the fitted distribution at or below x. @throws RangeError when x is not finite or a parameter is out of its range */
export function fittedCdf(fit: Parameters, x: number): number {
  requireParameters(fit, 'fittedCdf');
  switch (fit.family) {
    case 'normal': return normalCdf((x - fit.mean) / fit.sd);
    case 'lognormal': return lognormalCdf(x - fit.threshold, fit.mu, fit.sigma);
    case 'weibull': return weibullCdf(x - fit.threshold, fit.shape, fit.scale);
    case 'gamma': return x - fit.threshold > 1e300 * fit.scale ? 1 : gammaCdf(x - fit.threshold, fit.shape, fit.scale);
  }
}

/** Share of the fitted distribution above x, with its digits where it is small. @throws RangeError as fittedCdf */
export function fittedUpperTail(fit: Parameters, x: number): number {
  requireParameters(fit, 'fittedUpperTail');
  if (!Number.isFinite(x)) throw new RangeError(`fittedUpperTail: needs a finite value, ${x} given`);
  if (fit.family === 'normal') return normalUpperTail((x - fit.mean) / fit.sd);
  const excess = x - fit.threshold;
  if (excess <= 0) return 1 - fittedCdf(fit, x);
  switch (fit.family) {
    case 'lognormal': return normalCdf((fit.mu - Math.log(excess)) / fit.sigma);
    case 'weibull': return Math.exp(-((excess / fit.scale) ** fit.shape));
    case 'gamma': return regularisedGammaUpper(fit.shape, Math.min(1e300, excess / fit.scale));
  }
}

/** The x below which the share p of the fitted distribution lies. @throws RangeError when p is not strictly between 0 and 1, a parameter is out of its range, or x beyond the range of numbers */
export function fittedQuantile(fit: Parameters, p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`fittedQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  requireParameters(fit, 'fittedQuantile');
  const x = quantileOf(fit, p);
  if (!Number.isFinite(x)) throw new RangeError('fittedQuantile: needs parameters of ordinary size, the quantile of those given is beyond the range of numbers');
  return x;
}

function quantileOf(fit: Parameters, p: number): number {
  switch (fit.family) {
    case 'normal': return fit.mean + fit.sd * normalQuantile(p);
    case 'lognormal': return fit.threshold + lognormalQuantile(p, fit.mu, fit.sigma);
    case 'weibull': return fit.threshold + weibullQuantile(p, fit.shape, fit.scale);
    case 'gamma': return fit.threshold + gammaQuantile(p, fit.shape, fit.scale);
  }
}

function requireParameters(fit: Parameters, caller: string): void {
  const [place, spread, shape] = fit.family === 'normal' ? [fit.mean, fit.sd, 1] : fit.family === 'lognormal' ? [fit.threshold + fit.mu, fit.sigma, 1] : [fit.threshold, fit.scale, fit.shape];
  if (![place, spread, shape].every(Number.isFinite)) throw new RangeError(`${caller}: needs finite parameters, ${place}, ${spread} and ${shape} given`);
  if (!(spread > 0 && shape > 0)) throw new RangeError(`${caller}: needs a positive sd, sigma, scale and shape, ${spread} and ${shape} given`);
}

/** @throws RangeError when the likelihood is beyond the range of numbers */
export function likelihood(family: FamilyName, n: number, logLikelihood: number): Likelihood {
  if (!(Number.isFinite(n) && Number.isFinite(2 * logLikelihood))) throw new RangeError(`${family} fit: needs values of ordinary size and spread, the likelihood of those given is beyond the range of numbers`);
  return { n, logLikelihood, aic: 4 - 2 * logLikelihood };
}
