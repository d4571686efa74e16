import { requireFinite } from '../numeric/require-finite.js';

/** Bins side by side: count i lies in [edges[i], edges[i+1]); edges in the unit of the values, one more than counts. */
export type Histogram = { readonly edges: number[]; readonly counts: number[] };

/** However far one wild reading lies, the picture keeps at most this many bins. */
const MOST_BINS = 200;

/**
 * Counts for a histogram. Bin width: 2 IQR n^(-1/3) (Freedman & Diaconis 1981, "On the histogram as a density
 * estimator"), the range over sqrt(n) where the quartiles coincide.
 * With a gauge step the width is a whole number of steps, at least one, and the edges lie half a step off the values
 * the gauge can read: every bin then holds equally many readable values, and no comb appears that the gauge has made.
 * Without one the width is rounded to 1, 2 or 5 times a power of ten and edges are multiples of it.
 * @param gaugeStep smallest difference the gauge shows, in the unit of the values
 * @throws RangeError when there is no value, one is NaN or infinite, the step is not positive or far below the digits of the values
 */
export function histogram(values: ArrayLike<number>, gaugeStep?: number): Histogram {
  requireFinite(values, 1, 'histogram');
  if (gaugeStep !== undefined && !(gaugeStep > 0 && gaugeStep <= 1e300)) {
    throw new RangeError(`histogram: needs a positive gauge step, ${gaugeStep} given`);
  }
  const sorted = Float64Array.from(values).sort();
  const low = sorted[0] as number;
  const high = sorted[sorted.length - 1] as number;
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (!Number.isFinite(2 * size)) throw new RangeError('histogram: needs values whose differences stay within the range of numbers, larger ones given');
  if (gaugeStep !== undefined && size / gaugeStep > 1e11) throw new RangeError(`histogram: needs a gauge step that values of this size can show, ${gaugeStep} and values up to ${size} given`);
  // Edges have twelve digits: bins finer than the eleventh digit of the values would have no width left.
  const finest = gaugeStep === undefined && high > low ? Math.max(1e-11 * size, 1e-290) : 0;
  const wanted = Math.max(idealWidth(sorted), (high - low) / MOST_BINS, finest);
  const unit = gaugeStep ?? niceWidth(wanted > 0 ? wanted : Math.max(1e-6, size * 1e-6));
  const steps = gaugeStep === undefined ? 1 : Math.max(1, Math.round(wanted / unit), Math.ceil((high - low + unit) / (MOST_BINS * unit)));
  const offset = gaugeStep === undefined ? 0 : 0.5;

  // Edges are (first + i * steps - offset) units: whole numbers until the last multiplication, so they do not drift;
  // twelve digits are kept, which turns 9.200000000000001 back into the 9.2 that was meant.
  const position = (value: number): number => Math.floor(value / unit + offset + 1e-9);
  const first = position(low);
  const bins = Math.floor((position(high) - first) / steps) + 1;
  const counts = new Array<number>(bins).fill(0);
  for (const value of sorted) {
    const bin = Math.floor((position(value) - first) / steps);
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return { edges: Array.from({ length: bins + 1 }, (_, i) => Number(((first + i * steps - offset) * unit).toPrecision(12))), counts };
}

function idealWidth(sorted: Float64Array): number {
  const spread = quantile(sorted, 0.75) - quantile(sorted, 0.25);
  if (spread > 0) return (2 * spread) / Math.cbrt(sorted.length);
  return (quantile(sorted, 1) - quantile(sorted, 0)) / Math.sqrt(sorted.length);
}

/** Linear interpolation between order statistics (definition 7 of Hyndman & Fan 1996). */
function quantile(sorted: Float64Array, p: number): number {
  const at = p * (sorted.length - 1);
  const below = sorted[Math.floor(at)] as number;
  const above = sorted[Math.ceil(at)] as number;
  return below + (at - Math.floor(at)) * (above - below);
}

/** The nearest of 1, 2, 5 times a power of ten that is not below the width. */
function niceWidth(width: number): number {
  const power = 10 ** Math.floor(Math.log10(width));
  const factor = [1, 2, 5, 10].find((candidate) => candidate * power >= width * (1 - 1e-9)) ?? 10;
  return factor * power;
}
