import { fUpperTail } from '../distributions/f.js';
import { mean } from '../numeric/mean.js';
import { momentsOf } from './samples.js';

export type OneWay = {
  readonly between: { readonly ss: number; readonly df: number; readonly ms: number };
  readonly within: { readonly ss: number; readonly df: number; readonly ms: number };
  readonly f: number;
  readonly p: number;
  /** Share of the sum of squares between samples (R squared), and its nearly unbiased form (Hays 1963), 0 to 1. */
  readonly etaSquared: number;
  readonly omegaSquared: number;
};

/**
 * One-way analysis of variance, with means as differences from the first value so that a far origin costs no digits.
 * Source: Fisher 1925; NIST/SEMATECH e-Handbook 7.4.3.
 * @throws RangeError under 2 samples or 2 values in one, NaN, infinity or squares beyond the range, or when nothing varies within samples
 */
export function oneWayAnova(samples: readonly (readonly number[])[]): OneWay {
  const caller = 'oneWayAnova';
  const groups = momentsOfAll(samples, caller);
  const all = groups.reduce((sum, { n }) => sum + n, 0);
  const grand = groups.reduce((sum, { n, offset }) => sum + n * offset, 0) / all;
  const ssBetween = groups.reduce((sum, { n, offset }) => sum + n * (offset - grand) ** 2, 0);
  const ssWithin = groups.reduce((sum, { n, variance }) => sum + (n - 1) * variance, 0);
  const [between, within] = [{ ss: ssBetween, df: groups.length - 1, ms: ssBetween / (groups.length - 1) }, { ss: ssWithin, df: all - groups.length, ms: ssWithin / (all - groups.length) }];
  const f = between.ms / within.ms;
  if (!Number.isFinite(f)) throw new RangeError(`${caller}: needs values that vary within samples, those given do not`);
  const total = ssBetween + ssWithin;
  return { between, within, f, p: fUpperTail(f, between.df, within.df), etaSquared: ssBetween / total, omegaSquared: Math.max(0, (ssBetween - between.df * within.ms) / (total + within.ms)) };
}

/**
 * One-way test that does not take the variances as equal. Source: Welch 1951, "On the comparison of several mean values:
 * an alternative approach", Biometrika 38.
 * @throws RangeError as oneWayAnova, or when one sample does not vary
 */
export function welchAnova(samples: readonly (readonly number[])[]): { readonly f: number; readonly df1: number; readonly df2: number; readonly p: number } {
  const caller = 'welchAnova';
  const groups = momentsOfAll(samples, caller);
  groups.forEach(({ variance }, i) => {
    if (!(variance > 0)) throw new RangeError(`${caller}: needs values that vary in every sample, those of sample ${i + 1} given do not`);
  });
  // Only ratios of the weights matter: the smallest variance is taken as the unit.
  const unit = Math.min(...groups.map(({ variance, n }) => variance / n));
  const weights = groups.map(({ n, variance }) => unit / (variance / n));
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const grand = groups.reduce((total, group, i) => total + (weights[i] as number) * group.offset, 0) / sum;
  const k = groups.length;
  const spread = groups.reduce((total, group, i) => total + (weights[i] as number) * ((group.offset - grand) / Math.sqrt(unit)) ** 2, 0) / (k - 1);
  const lambda = groups.reduce((total, { n }, i) => total + (1 - (weights[i] as number) / sum) ** 2 / (n - 1), 0);
  const f = spread / (1 + (2 * (k - 2) * lambda) / (k * k - 1));
  const df2 = (k * k - 1) / (3 * lambda);
  if (!Number.isFinite(f) || !Number.isFinite(df2)) throw new RangeError(`${caller}: needs values of like size, those given lead beyond the range of numbers`);
  return { f, df1: k - 1, df2, p: fUpperTail(f, k - 1, df2) };
}

/**
 * Whether samples vary alike: one-way analysis of the distances from the median of each sample.
 * Source: Brown & Forsythe 1974, "Robust tests for the equality of variances", JASA 69; Levene 1960.
 * @throws RangeError as oneWayAnova; when every value is as far from its median as the others
 */
export function equalSpreadTest(samples: readonly (readonly number[])[]): { readonly f: number; readonly df1: number; readonly df2: number; readonly p: number } {
  const caller = 'equalSpreadTest';
  momentsOfAll(samples, caller);
  const distances = samples.map((sample) => {
    const centre = medianOf(sample);
    return sample.map((value) => Math.abs(value - centre));
  });
  if (distances.every((list) => list.every((value) => value === list[0]))) throw new RangeError(`${caller}: needs values at different distances from their median, those given are all alike`);
  const { f, between, within, p } = oneWayAnova(distances);
  return { f, df1: between.df, df2: within.df, p };
}

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return mean(Number.isInteger(half) ? [sorted[half - 1] as number, sorted[half] as number] : [sorted[Math.floor(half)] as number]);
}

function momentsOfAll(samples: readonly (readonly number[])[], caller: string) {
  if (samples.length < 2) throw new RangeError(`${caller}: needs at least 2 samples, ${samples.length} given`);
  const origin = samples[0]?.[0] ?? 0;
  return samples.map((sample, i) => ({ ...momentsOf(sample, caller, `sample ${i + 1}`), /** Of the mean from the first value of all. */ offset: mean(sample.map((value) => value - origin)) }));
}
