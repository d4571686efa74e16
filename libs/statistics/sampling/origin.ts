import { binomialCdf, binomialPmf } from '../distributions/binomial.js';
import { hypergeometricCdf, hypergeometricPmf } from '../distributions/hypergeometric.js';
import { poissonCdf, poissonPmf } from '../distributions/poisson.js';

/** How defectives come into a sample: units of a process, rare defects, or units drawn from one finite lot. */
export type CountModel = 'binomial' | 'poisson' | 'hypergeometric';

/** Where a sample is drawn from: a process with a share of defectives, or one lot with a number of them. */
export type Origin =
  | { readonly model: 'binomial'; readonly share: number }
  | { readonly model: 'poisson'; readonly share: number }
  | { readonly model: 'hypergeometric'; readonly lot: number; readonly defective: number };

/** Most units and most defectives a plan is computed for. */
export const MOST_UNITS = 1e9;
export const MOST_DEFECTIVE = 10_000;

/** P(exactly k defectives among n). @throws RangeError when a count or the share is outside its distribution's range */
export function exactly(k: number, n: number, origin: Origin): number {
  if (origin.model === 'binomial') return binomialPmf(k, n, origin.share);
  if (origin.model === 'poisson') return poissonPmf(k, n * origin.share);
  return hypergeometricPmf(k, origin.lot, origin.defective, n);
}

/** P(k defectives or fewer among n). @throws RangeError as exactly */
export function atMost(k: number, n: number, origin: Origin): number {
  if (origin.model === 'binomial') return binomialCdf(k, n, origin.share);
  if (origin.model === 'poisson') return poissonCdf(k, n * origin.share);
  return hypergeometricCdf(k, origin.lot, origin.defective, n);
}

/** What the next sample is drawn from when n units with `found` defectives have left; a process stays as it is. @throws RangeError when the lot does not hold them */
export function without(n: number, found: number, origin: Origin): Origin {
  if (origin.model !== 'hypergeometric') return origin;
  requireCount(n, 0, requireLot(origin.lot, 'without'), 'a sample', 'without');
  requireCount(origin.defective, 0, origin.lot, 'a number of defectives', 'without');
  requireCount(found, 0, Math.min(n, origin.defective), 'a number found', 'without');
  return { model: 'hypergeometric', lot: origin.lot - n, defective: origin.defective - found };
}

/**
 * Defectives among n units, and what lies behind them in a lot of `lot` units.
 * A hypergeometric lot has a whole number of defectives: the share is taken to the nearest.
 * @param lot units in the lot, null for a process without lots
 * @throws RangeError when the share is outside 0 to 1 or a hypergeometric origin has no lot
 */
export function originOf(model: CountModel, share: number, lot: number | null, caller: string): Origin {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`${caller}: needs a share defective from 0 to 1, ${share} given`);
  if (model !== 'hypergeometric') return { model, share };
  return { model, lot: requireLot(lot, caller), defective: Math.round(share * requireLot(lot, caller)) };
}

export function requireLot(lot: number | null, caller: string): number {
  if (lot === null || !(Number.isInteger(lot) && lot >= 1 && lot <= MOST_UNITS)) throw new RangeError(`${caller}: needs a whole lot size from 1 to ${MOST_UNITS}, ${lot} given`);
  return lot;
}

export function requireCount(count: number, least: number, most: number, what: string, caller: string): void {
  if (!(Number.isInteger(count) && count >= least && count <= most)) throw new RangeError(`${caller}: needs ${what} that is whole, ${least} to ${most}, ${count} given`);
}

export function requireChance(chance: number, what: string, caller: string): void {
  if (!(chance > 0 && chance < 1)) throw new RangeError(`${caller}: needs ${what} strictly between 0 and 1, ${chance} given`);
}

/**
 * Whether a probability is no more than a risk. Within 1e-9 of the risk it counts as equal: 1 in 10 reaches 0.1 although
 * neither is a number that a computer holds exactly.
 */
export function reaches(probability: number, risk: number): boolean {
  return probability <= risk * (1 + 1e-9);
}
