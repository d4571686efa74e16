import { type Panel, panelOf } from './panel.js';

export type EwmaOptions = {
  /** Weight of the newest value, above 0 up to 1. */
  readonly lambda: number;
  /** Half width of the limits in sigmas of the average. */
  readonly factor: number;
  /** Where the average starts and the limits are centred. */
  readonly target: number;
  /** Sigma of a plotted value: one for all, or one a value (null at a gap), as means of unequal subgroups have. */
  readonly sigma: number | readonly (number | null)[];
  /** 'exact' widens from the first value on; 'steady-state' draws the final width at once and needs one sigma for all. */
  readonly limits: 'exact' | 'steady-state';
};

/**
 * Exponentially weighted moving average: z_i = lambda x_i + (1-lambda) z_(i-1), z_0 = target; limits target +- factor sigma_z with
 *   exact  var z_i = lambda^2 sigma_i^2 + (1-lambda)^2 var z_(i-1), which for one sigma is sigma^2 lambda/(2-lambda) [1-(1-lambda)^(2i)],
 *   steady state  sigma^2 lambda/(2-lambda).
 * A gap leaves the average where it was: no point, and the next value counts as the next one.
 * Source: Roberts 1959, Technometrics 1(3); Lucas & Saccucci 1990, Technometrics 32(1); NIST/SEMATECH e-Handbook 6.3.2.4.
 * @param values in time order, null = gap; unit of the readings
 * @throws RangeError when lambda is not above 0 and at most 1, factor or a sigma not positive, target or a value not finite, or no value is present
 */
export function ewmaChart(values: readonly (number | null)[], { lambda, factor, target, sigma, limits }: EwmaOptions): { readonly panel: Panel } {
  if (!(lambda > 0 && lambda <= 1)) throw new RangeError(`ewmaChart: needs a lambda above 0 and at most 1, ${lambda} given`);
  if (!(factor > 0 && Number.isFinite(factor))) throw new RangeError(`ewmaChart: needs a positive factor, ${factor} given`);
  if (!Number.isFinite(target)) throw new RangeError(`ewmaChart: needs a finite target, ${target} given`);
  if (typeof sigma !== 'number' && limits === 'steady-state') throw new RangeError('ewmaChart: needs one sigma for all values where the limits are those of the steady state, a list given');
  if (values.every((value) => value === null)) throw new RangeError('ewmaChart: needs at least 1 value, 0 given');

  const widths: (number | null)[] = [];
  // The variance is carried as a root, in units of its own size, so that no square overflows.
  let deviation = 0;
  let average = target;
  const points = values.map((value, index) => {
    if (value === null) {
      widths.push(null);
      return null;
    }
    const own = typeof sigma === 'number' ? sigma : (sigma?.[index] ?? Number.NaN);
    if (!Number.isFinite(value)) throw new RangeError(`ewmaChart: needs finite values, value ${index + 1} is ${value}`);
    if (!(own > 0 && Number.isFinite(own))) throw new RangeError(`ewmaChart: needs a positive sigma, that of value ${index + 1} is ${own}`);
    average += lambda * (value - average);
    deviation = Math.hypot(lambda * own, (1 - lambda) * deviation);
    if (deviation === 0) throw new RangeError(`ewmaChart: needs a larger lambda or sigma, ${lambda} and ${own} leave limits of no width`);
    widths.push(limits === 'exact' ? deviation : own * Math.sqrt(lambda / (2 - lambda)));
    return average;
  });
  const panel = panelOf('ewmaChart', 'ewma', points, (index) => {
    const width = widths[index] ?? null;
    return width === null ? { centre: target, lower: null, upper: null, sigma: null } : { centre: target, lower: target - factor * width, upper: target + factor * width, sigma: width };
  });
  return { panel };
}
