import { chiSquareUpperTail } from '../distributions/gamma.js';
import { normalQuantile, normalUpperTail } from '../distributions/normal.js';
import { mean } from '../numeric/mean.js';

export type Autocorrelation = {
  readonly n: number;
  /** Correlation of a reading with the one `lag` places before it. */
  readonly lags: readonly { readonly lag: number; readonly r: number; readonly pairs: number }[];
  /** A correlation outside +- bound is not chance alone, at the confidence asked for (for one lag at a time). */
  readonly bound: number;
  /** All lags together. Small p = the readings remember. */
  readonly together: { readonly q: number; readonly df: number; readonly p: number };
  /** What a first-order memory of this size does to limits that come from moving ranges. */
  readonly memory: {
    readonly phi: number;
    /** True sigma over the sigma from moving ranges: above 1, the limits are too narrow by this factor. */
    readonly sigmaRatio: number;
    /** Chance of a false alarm at three such sigmas; 0.0027 without memory. */
    readonly falseAlarm: number;
    /** Take only every so-manieth reading, and the correlation is below `tolerated`; null when 1 would do or the memory does not fade. */
    readonly every: number | null;
  };
  /** Whether readings come too often for a chart that takes them as independent: lag 1 is above its bound. */
  readonly tooOften: boolean;
};

/**
 * Whether readings in time order remember the ones before.
 * r_k = sum (x_t - m)(x_(t+k) - m) / sum (x_t - m)^2, bound z/sqrt(n): Box & Jenkins 1976, Time Series Analysis, 2.1;
 * all lags together: Ljung & Box 1978, Biometrika 65. First-order memory (AR(1), phi = r_1): a moving range has mean
 * 2 sigma sqrt((1-phi)/pi), so limits shrink by sqrt(1-phi): Vasilopoulos & Stamboulis 1978, Journal of Quality
 * Technology 10; Montgomery, Introduction to Statistical Quality Control, "Control charts for autocorrelated data".
 * @param values null = gap: no pair reaches into it
 * @param options lags (default 10, at most a quarter of the readings), confidence (0.95), tolerated correlation (0.1: common practice, no source)
 * @throws RangeError under 8 readings, when nothing varies, or NaN, infinity or squares beyond the range of numbers
 */
export function autocorrelation(values: readonly (number | null)[], options: { readonly lags?: number; readonly confidence?: number; readonly tolerated?: number } = {}): Autocorrelation {
  const caller = 'autocorrelation';
  const { confidence = 0.95, tolerated = 0.1 } = options;
  for (const [name, value] of [['confidence', confidence], ['tolerated correlation', tolerated]] as const) {
    if (!(value > 0 && value < 1)) throw new RangeError(`${caller}: needs a ${name} strictly between 0 and 1, ${value} given`);
  }
  const present = values.filter((value) => value !== null);
  const n = present.length;
  if (n < 8) throw new RangeError(`${caller}: needs at least 8 readings, ${n} given`);
  const most = Math.max(1, Math.floor(n / 4));
  const lags = options.lags ?? Math.min(10, most);
  if (!Number.isInteger(lags) || lags < 1 || lags > most) throw new RangeError(`${caller}: needs a whole number of lags from 1 to ${most} (a quarter of the readings), ${lags} given`);
  const correlations = Array.from({ length: lags }, (_, k) => ({ lag: k + 1, ...lagCorrelation(values, k + 1) }));
  const phi = correlations[0]?.r ?? 0;
  const bound = normalQuantile(1 - (1 - confidence) / 2) / Math.sqrt(n);
  const q = n * (n + 2) * correlations.reduce((sum, { r, lag }) => sum + (r * r) / (n - lag), 0);
  const kept = Math.sqrt(Math.max(0, 1 - phi));
  return {
    n, lags: correlations, bound, together: { q, df: lags, p: chiSquareUpperTail(q, lags) },
    memory: {
      phi, sigmaRatio: 1 / Math.max(kept, 1e-6), falseAlarm: 2 * normalUpperTail(3 * kept),
      every: Math.abs(phi) <= tolerated || Math.abs(phi) >= 1 ? null : Math.ceil(Math.log(tolerated) / Math.log(Math.abs(phi))),
    },
    tooOften: phi > bound,
  };
}

/**
 * Correlation with the reading `lag` places before, over the whole sum of squares (so it lies within -1 to 1).
 * @throws RangeError when fewer than 2 readings are present, nothing varies, or a number is not finite or too large
 */
export function lagCorrelation(values: readonly (number | null)[], lag: number): { r: number; pairs: number } {
  const caller = 'lagCorrelation';
  if (!Number.isInteger(lag) || lag < 1) throw new RangeError(`${caller}: needs a whole lag of 1 or more, ${lag} given`);
  const present = values.filter((value) => value !== null);
  if (present.length < 2) throw new RangeError(`${caller}: needs at least 2 readings, ${present.length} given`);
  const origin = present[0] as number;
  const differences = values.map((value) => (value === null ? null : value - origin));
  const centre = mean(differences.filter((value) => value !== null));
  let squares = 0;
  let products = 0;
  let pairs = 0;
  differences.forEach((value, i) => {
    if (value === null) return;
    squares += (value - centre) ** 2;
    const before = i < lag ? null : (differences[i - lag] ?? null);
    if (before === null) return;
    products += (value - centre) * (before - centre);
    pairs += 1;
  });
  if (!Number.isFinite(squares)) throw new RangeError(`${caller}: needs readings whose squares are within the range of numbers, larger ones given`);
  if (!(squares > 0)) throw new RangeError(`${caller}: needs readings that differ, all given are alike`);
  return { r: products / squares, pairs };
}
