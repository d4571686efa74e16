import { type PercentileCapability, percentileCapability, REFERENCE_SHARE, type ReferencePoints } from '../percentile-capability.js';
import { refuseClosedScale, type Scale } from '../scale.js';
import { FAMILIES, type FamilyName, type Fit, fittedCdf, fittedQuantile, fittedUpperTail, type Likelihood, type NormalParameters } from './family.js';
import { fitGamma, LARGEST_GAMMA_SHAPE } from './fit-gamma.js';
import { fitLognormal } from './fit-lognormal.js';
import { fitNormal } from './fit-normal.js';
import { fitWeibull } from './fit-weibull.js';
import { type Goodness, goodnessOfFit } from './goodness.js';

export type ChoiceInput = {
  readonly values: ArrayLike<number>;
  readonly lsl: number | null;
  readonly usl: number | null;
  readonly families?: readonly FamilyName[];
  /** Known lower end of lognormal, Weibull and gamma, in the unit of the values: 0 unless said otherwise. */
  readonly threshold?: number;
  /** A family whose p is below this is refused. */
  readonly level?: number;
  readonly scale?: Scale;
};

/** Why a family has no fit: a value is not above the threshold, or the gamma would be a normal. */
export type FitGap = 'not-above-threshold' | 'as-normal';

export type Candidate = {
  readonly family: FamilyName;
  readonly fit: Fit | null;
  readonly gap: FitGap | null;
  /** Null under 8 values or without a fit. */
  readonly goodness: Goodness | null;
  readonly accepted: boolean;
  readonly points: ReferencePoints | null;
  /** Null without limits or without a fit. Also given for refused families: beside them stands their p. */
  readonly indices: PercentileCapability | null;
  /** Expected parts per million beyond each limit by the fit. */
  readonly expectedPpm: { readonly below: number | null; readonly above: number | null } | null;
  /** Its AIC less the smallest of all fits. */
  readonly aicAboveBest: number | null;
};

export type Choice = {
  readonly candidates: readonly Candidate[];
  readonly chosen: FamilyName | null;
  /** Why none is chosen. */
  readonly refusal: 'none-fits' | 'too-few-values' | null;
  /** Accepted families within 2 AIC of the chosen one: the values do not tell them apart, their tails may still differ. */
  readonly notToldApart: readonly FamilyName[];
};

/**
 * Fits normal, lognormal, Weibull and gamma, tests each, and chooses one or none.
 * Rule: families with Anderson-Darling p below the level are refused; of the others the one with the smallest AIC is chosen
 * (all have two parameters, so it is the likeliest). When all are refused none is chosen, however much better than the rest
 * the best may be: the percentiles of a distribution that does not fit say nothing. Values not refused are not proved.
 * Source: Anderson & Darling 1954; Akaike 1974, "A new look at the statistical model identification", IEEE Transactions on
 * Automatic Control 19(6); the two AIC that do not tell apart: Burnham & Anderson 2002, Model Selection and Multimodel
 * Inference, section 2.6. Percentile indices: ISO/TR 22514-4 (see percentileCapability).
 * @throws RangeError under 3 values, when they do not vary or one is not finite, the level is not strictly between 0 and 1, no
 *   family is asked for, limits are in the wrong order, or the scale is bounded or ordinal
 */
export function chooseDistribution(input: ChoiceInput): Choice {
  const { values, lsl, usl, families = FAMILIES, threshold = 0, level = 0.05, scale = 'open' } = input;
  refuseClosedScale(scale, 'chooseDistribution');
  if (!(level > 0 && level < 1)) throw new RangeError(`chooseDistribution: needs a level strictly between 0 and 1, ${level} given`);
  if (!Number.isFinite(threshold)) throw new RangeError(`chooseDistribution: needs a finite threshold, ${threshold} given`);
  if (families.length === 0) throw new RangeError('chooseDistribution: needs at least one family, none given');
  // The normal fit refuses what no family can be fitted to, in one place.
  const normal = fitNormal(values);
  const fits = [...new Set(families)].map((family) => ({ family, ...fitOf(family, values, threshold, normal) }));
  const best = fits.reduce((least, { fit }) => Math.min(least, fit?.aic ?? Number.POSITIVE_INFINITY), Number.POSITIVE_INFINITY);
  const candidates = fits.map(({ family, fit, gap }): Candidate => {
    if (!fit) return { family, fit, gap, goodness: null, accepted: false, points: null, indices: null, expectedPpm: null, aicAboveBest: null };
    const goodness = goodnessOfFit(values, fit);
    const points = { low: fittedQuantile(fit, REFERENCE_SHARE), middle: fittedQuantile(fit, 0.5), high: fittedQuantile(fit, 1 - REFERENCE_SHARE) };
    const hasLimit = lsl !== null || usl !== null;
    return {
      family, fit, gap, goodness, accepted: goodness !== null && goodness.p >= level, points,
      indices: hasLimit ? percentileCapability(points, lsl, usl) : null,
      expectedPpm: hasLimit ? { below: lsl === null ? null : 1e6 * fittedCdf(fit, lsl), above: usl === null ? null : 1e6 * fittedUpperTail(fit, usl) } : null,
      aicAboveBest: fit.aic - best,
    };
  });
  const accepted = candidates.filter((candidate) => candidate.accepted).sort((a, b) => (a.aicAboveBest ?? 0) - (b.aicAboveBest ?? 0));
  const [first] = accepted;
  if (!first) return { candidates, chosen: null, refusal: values.length < 8 ? 'too-few-values' : 'none-fits', notToldApart: [] };
  const near = accepted.slice(1).filter(({ aicAboveBest }) => (aicAboveBest ?? 0) - (first.aicAboveBest ?? 0) <= 2);
  return { candidates, chosen: first.family, refusal: null, notToldApart: near.map(({ family }) => family) };
}

function fitOf(family: FamilyName, values: ArrayLike<number>, threshold: number, normal: NormalParameters & Likelihood): { fit: Fit | null; gap: FitGap | null } {
  if (family === 'normal') return { fit: normal, gap: null };
  for (let i = 0; i < values.length; i += 1) if (!((values[i] as number) > threshold)) return { fit: null, gap: 'not-above-threshold' };
  if (family === 'lognormal') return { fit: fitLognormal(values, threshold), gap: null };
  if (family === 'weibull') return { fit: fitWeibull(values, threshold), gap: null };
  // The shape of a gamma is near the square of mean over sd; a spread so small against the mean is fitted by the normal.
  const ratio = (normal.mean - threshold) / normal.sd;
  return ratio * ratio > 0.9 * LARGEST_GAMMA_SHAPE ? { fit: null, gap: 'as-normal' } : { fit: fitGamma(values, threshold), gap: null };
}
