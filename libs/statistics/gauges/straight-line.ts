import { chiSquareQuantile } from '../distributions/gamma.js';
import { studentTQuantile, studentTUpperTail } from '../distributions/student-t.js';
import { mean } from '../numeric/mean.js';
import { requireConfidence, requireInRange } from './mean-square.js';

/** An estimate with its two-sided t test against 0; t and p are null where the points lie exactly on the line. */
export type Tested = { readonly estimate: number; readonly se: number; readonly t: number | null; readonly p: number | null; readonly low: number; readonly high: number };

export type StraightLine = {
  readonly n: number;
  readonly slope: Tested;
  readonly intercept: Tested;
  readonly residualSd: number;
  /** Null where y does not vary. */
  readonly rSquared: number | null;
  /** The line at x and the interval of its mean there. */
  at(x: number): { readonly fitted: number; readonly low: number; readonly high: number };
};

/** Two-sided t test of an estimate against 0, with its interval. @throws RangeError when a figure is not finite or beyond the range of numbers */
export function tested(estimate: number, se: number, df: number, confidence: number): Tested {
  const half = studentTQuantile((1 + confidence) / 2, df) * se;
  if (!(se >= 0 && Number.isFinite(Math.abs(estimate) + half))) throw new RangeError(`tested: needs an estimate and an error whose interval is within the range of numbers, ${estimate} and ${se} given`);
  const t = se > 0 && Number.isFinite(estimate / se) ? estimate / se : null;
  return { estimate, se, t, p: t === null ? null : 2 * studentTUpperTail(Math.abs(t), df), low: estimate - half, high: estimate + half };
}

/**
 * Least squares of y on x with t tests, intervals and bands; x and y in any units.
 * Source: Draper & Smith, Applied Regression Analysis, chapter 1. Sums about the means of differences from the first point.
 * @throws RangeError under 3 points, when lengths differ, x does not vary, or a number is not finite or too large
 */
export function straightLine(x: readonly number[], y: readonly number[], confidence = 0.95): StraightLine {
  const caller = 'straightLine';
  requireConfidence(confidence, caller);
  const n = x.length;
  if (n < 3 || y.length !== n) throw new RangeError(`${caller}: needs at least 3 pairs, ${n} and ${y.length} given`);
  const [mx, my] = [mean(x), mean(y)];
  let [sxx, sxy, syy] = [0, 0, 0];
  for (let i = 0; i < n; i += 1) {
    const [dx, dy] = [(x[i] as number) - mx, (y[i] as number) - my];
    sxx += dx * dx;
    sxy += dx * dy;
    syy += dy * dy;
  }
  requireInRange([sxx, sxy, syy], caller);
  if (!(sxx > 0)) throw new RangeError(`${caller}: needs x that varies, all are ${mx}`);
  const b = sxy / sxx;
  let rest = 0;
  for (let i = 0; i < n; i += 1) rest += ((y[i] as number) - my - b * ((x[i] as number) - mx)) ** 2;
  const s = Math.sqrt(rest / (n - 2));
  const seAt = (at: number): number => s * Math.sqrt(1 / n + (at - mx) ** 2 / sxx);
  const t = studentTQuantile((1 + confidence) / 2, n - 2);
  const slope = tested(b, s / Math.sqrt(sxx), n - 2, confidence);
  const intercept = tested(my - b * mx, seAt(0), n - 2, confidence);
  requireInRange([slope.low, slope.high, slope.se, intercept.low, intercept.high], caller);
  return {
    n, slope, intercept, residualSd: s, rSquared: syy > 0 ? Math.max(0, 1 - rest / syy) : null,
    at: (point) => {
      const fitted = my + b * (point - mx);
      requireInRange([fitted, seAt(point) * t], caller);
      return { fitted, low: fitted - t * seAt(point), high: fitted + t * seAt(point) };
    },
  };
}

/** Chi-square interval of an sd with df degrees of freedom. */
export function sdInterval(sd: number, df: number, confidence: number): { readonly low: number; readonly high: number } {
  const risk = (1 - confidence) / 2;
  const interval = { low: sd * Math.sqrt(df / chiSquareQuantile(1 - risk, df)), high: sd * Math.sqrt(df / chiSquareQuantile(risk, df)) };
  requireInRange([interval.high], 'sdInterval');
  return interval;
}
