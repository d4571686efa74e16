import { gammaCdf } from '#statistics/distributions/gamma';
import { lognormalCdf } from '#statistics/distributions/lognormal';
import { normalCdf } from '#statistics/distributions/normal';
import { weibullCdf } from '#statistics/distributions/weibull';
import type { AnswerOf } from '#contract/endpoint';
import type { fitDistributions } from '#contract/workbench/capability';

export type Candidate = AnswerOf<typeof fitDistributions>['candidates'][number];
export type Fit = NonNullable<Candidate['fit']>;

/** Share of the fitted distribution up to x. */
function cumulative(fit: Fit, x: number): number {
  if (fit.family === 'normal') return normalCdf((x - fit.mean) / fit.sd);
  const above = x - fit.threshold;
  if (above <= 0) return 0;
  if (fit.family === 'lognormal') return lognormalCdf(above, fit.mu, fit.sigma);
  return fit.family === 'weibull' ? weibullCdf(above, fit.shape, fit.scale) : gammaCdf(above, fit.shape, fit.scale);
}

/** What each bin of a histogram would hold if the fit were true: n times the share between its edges. */
export function expectedCounts(fit: Fit, edges: readonly number[], n: number): number[] {
  const shares = edges.map((edge) => cumulative(fit, edge));
  return shares.slice(1).map((share, index) => n * Math.max(0, share - (shares[index] ?? 0)));
}
