import { BEYOND_TOLERANCE, type Side } from '../rules/verdict.js';
import { type Panel, panelOf } from './panel.js';

export type CusumOptions = {
  readonly target: number;
  /** Sigma of a plotted value. */
  readonly sigma: number;
  /** Allowance K and decision interval H in sigmas; K is half the shift to be found. */
  readonly k: number;
  readonly h: number;
  /** Where both sums start, in sigmas, below h: 0, or h/2 for a fast initial response. */
  readonly headStart?: number;
};

/** A point where a sum is beyond H. */
export type CusumSignal = {
  readonly index: number;
  readonly side: Side;
  /** First point of the unbroken run of non-zero sums: the estimated start of the shift (0-based). */
  readonly from: number;
  /** Estimated mean since then, target +- (K + C/N), in the unit of the values. */
  readonly mean: number;
  /** The same as a shift from the target in sigmas, negative below. */
  readonly shift: number;
};

export type CusumChart = {
  /** C+ and C-, both 0 or more, in the unit of the values; null at a gap. */
  readonly above: readonly (number | null)[];
  readonly below: readonly (number | null)[];
  /** N+ and N-, how many values in a row the sum has not been 0. */
  readonly countAbove: readonly (number | null)[];
  readonly countBelow: readonly (number | null)[];
  readonly signals: readonly CusumSignal[];
  /** C+ with its limit H, and -C- with its limit -H, so that both can be drawn round one zero line. */
  readonly panels: readonly [Panel, Panel];
};

/**
 * Tabular cumulative sums: C+_i = max(0, x_i - (T+K) + C+_(i-1)), C-_i = max(0, (T-K) - x_i + C-_(i-1)), signal where
 * a sum is above H; nothing is reset after a signal. A gap leaves both sums as they are.
 * Source: Page 1954, Biometrika 41; Montgomery & Runger, Applied Statistics and Probability for Engineers, 3rd ed.,
 * 16-10; the head start after Lucas & Crosier 1982, Technometrics 24(3), who take h/2. With a head start N counts only
 * the values, so the estimated mean of a signal in that first run is taken without the head start's share.
 * @param values in time order, null = gap; unit of the readings
 * @throws RangeError when target or a value is not finite, sigma or h not positive, k negative, the head start not from 0 to below h, or no value is present
 */
export function cusumChart(values: readonly (number | null)[], { target, sigma, k, h, headStart = 0 }: CusumOptions): CusumChart {
  if (!Number.isFinite(target)) throw new RangeError(`cusumChart: needs a finite target, ${target} given`);
  if (!(sigma > 0 && Number.isFinite(sigma))) throw new RangeError(`cusumChart: needs a positive sigma, ${sigma} given`);
  if (!(k >= 0 && Number.isFinite(k))) throw new RangeError(`cusumChart: needs an allowance k of 0 or more, ${k} given`);
  if (!(h > 0 && Number.isFinite(h))) throw new RangeError(`cusumChart: needs a positive decision interval h, ${h} given`);
  if (!(headStart >= 0 && headStart < h)) throw new RangeError(`cusumChart: needs a head start from 0 to below h, ${headStart} given`);
  if (values.every((value) => value === null)) throw new RangeError('cusumChart: needs at least 1 value, 0 given');
  const up = oneSide(values, target, sigma, { k, h, headStart }, 1);
  const down = oneSide(values, target, sigma, { k, h, headStart }, -1);
  const limit = h * sigma;
  return {
    above: up.sums, below: down.sums, countAbove: up.counts, countBelow: down.counts,
    signals: [...up.signals, ...down.signals].sort((a, b) => a.index - b.index),
    panels: [
      panelOf('cusumChart', 'cusum-above', up.sums, () => ({ centre: 0, lower: null, upper: limit, sigma: null })),
      panelOf('cusumChart', 'cusum-below', down.sums.map((sum) => (sum === null ? null : 0 - sum)), () => ({ centre: 0, lower: -limit, upper: null, sigma: null })),
    ],
  };
}

type Design = { readonly k: number; readonly h: number; readonly headStart: number };
type OneSide = { readonly sums: (number | null)[]; readonly counts: (number | null)[]; readonly signals: CusumSignal[] };

function oneSide(values: readonly (number | null)[], target: number, sigma: number, { k, h, headStart }: Design, sign: 1 | -1): OneSide {
  const sums: (number | null)[] = [];
  const counts: (number | null)[] = [];
  const signals: CusumSignal[] = [];
  const allowance = k * sigma;
  let sum = headStart * sigma;
  let head = sum;
  let count = 0;
  let from = 0;
  values.forEach((value, index) => {
    if (value === null) {
      sums.push(null);
      counts.push(null);
      return;
    }
    if (!Number.isFinite(value)) throw new RangeError(`cusumChart: needs finite values, value ${index + 1} is ${value}`);
    sum += sign * (value - target) - allowance;
    // What is left of a sum by rounding alone is nothing, and must not count as a run.
    if (sum <= BEYOND_TOLERANCE * sigma) {
      sum = 0;
      head = 0;
    }
    if (count === 0) from = index;
    count = sum > 0 ? count + 1 : 0;
    sums.push(sum);
    counts.push(count);
    // With the rounding that panelOf allows, so that signals and points beyond H are the same ones.
    if (sum > h * sigma * (1 + BEYOND_TOLERANCE)) {
      const size = allowance + (sum - head) / count;
      const signal = { index, side: sign > 0 ? 'above' as const : 'below' as const, from, mean: target + sign * size, shift: (sign * size) / sigma };
      if (!(Number.isFinite(signal.mean) && Number.isFinite(signal.shift))) throw new RangeError(`cusumChart: needs values within the range of numbers in sigmas, value ${index + 1} leads beyond it`);
      signals.push(signal);
    }
  });
  return { sums, counts, signals };
}
