import type { RuleName } from '../rules/verdict.js';
import { type Followed, followWalks, pointsUntil, survivalOf, type WalkAt } from './follow-walks.js';
import { walksOfCusum } from './run-length-of-cusum.js';
import { walksOfEwma } from './run-length-of-ewma.js';
import { requireRules, walksOf } from './run-length-of-rules.js';

/** How the means of the checks are judged. Widths, allowances and intervals are in the sigma that the limits are made from. */
export type Scheme =
  | { readonly kind: 'rules'; readonly rules: readonly RuleName[] }
  | { readonly kind: 'ewma'; readonly lambda: number; readonly width: number }
  | { readonly kind: 'cusum'; readonly k: number; readonly h: number };

export type CheckPlan = {
  /** Variances in the squared unit of the characteristic: between checks, between pieces of a check, between places on a piece. */
  readonly components: { readonly check: number; readonly piece: number; readonly position: number };
  readonly piecesPerCheck: number;
  readonly positionsPerPiece: number;
  readonly intervalMinutes: number;
  readonly piecesPerMinute: number;
  /** Hours a day in which the process runs and is checked. */
  readonly hoursPerDay: number;
  readonly scheme: Scheme;
  /** Whether the limits know only the spread within checks, or also how checks differ among themselves. */
  readonly limitsInclude: 'short-term' | 'long-term';
  readonly progress?: (share: number) => void;
};

/** Mean and 95th percentile; null beyond the range of numbers. */
export type Until = { readonly mean: number | null; readonly p95: number | null };

export type Detection = {
  /** Sigma of the plotted mean, in the unit of the characteristic. */
  readonly sigmaOfPoint: number;
  readonly falseAlarm: { readonly arl: number | null; readonly days: number | null };
  readonly tornDownPerDay: number;
  readonly perShift: readonly { readonly shift: number; readonly shiftInSigma: number; readonly arl: number | null; readonly minutes: Until; readonly pieces: Until }[];
};

const LATE = 0.95;

/**
 * What a plan of checks detects, how soon, and what it costs. The plotted mean of n pieces with m places each has variance
 * check + piece/n + position/(n m). With short-term limits the lines lie closer than that sigma puts them wherever checks
 * differ among themselves, and false alarms come more often; the figures take that into account.
 * Run lengths are exact (see runLengthsOfRules, runLengthsOfEwma, runLengthsOfCusum) and conditional steady state: the
 * shift comes after a long time without a signal. It comes at any moment of an interval with equal chance, so a signal at
 * the N-th check after it is (N - 1/2) intervals late in the mean. False alarms: mean run length from the start.
 * Assumed: normal, independent, known limits, a shift that stays. Source: Duncan 1956, "The economic design of X-bar
 * charts used to maintain current control of a process", JASA 51, for time from shift to signal; Lucas & Saccucci 1990.
 * @param shifts of the mean, in the unit of the characteristic
 * @throws RangeError when a variance is negative or all are 0, a number of pieces or places is not whole and positive, an
 * interval, speed or number of hours is not positive, short-term limits have no variance within, or as the scheme's own function
 */
export function detectionPlan(plan: CheckPlan, shifts: readonly number[]): Detection {
  const caller = 'detectionPlan';
  const { piecesPerCheck, intervalMinutes, piecesPerMinute, hoursPerDay } = plan;
  const { sigmaOfPoint, lines } = sigmasOf(plan, caller);
  for (const [name, value, most] of [['interval in minutes', intervalMinutes, 1e7], ['speed in pieces a minute', piecesPerMinute, 1e7], ['number of hours a day', hoursPerDay, 24]] as const) {
    if (!(value >= 1e-6 && value <= most)) throw new RangeError(`${caller}: needs a positive ${name}, from 0.000001 to ${most}, ${value} given`);
  }
  const inSigma = shifts.map((shift, i) => {
    const sigmas = shift / sigmaOfPoint;
    if (!Number.isFinite(sigmas)) throw new RangeError(`${caller}: needs finite shifts of like size as the spread, ${shift} given as shift ${i + 1}`);
    return sigmas;
  });
  const { inControl, lengths } = followWalks(walksOfScheme(plan.scheme, lines, caller), inSigma, caller, plan.progress);
  return {
    sigmaOfPoint,
    falseAlarm: { arl: inControl.mean, days: times(inControl.mean, intervalMinutes / 60 / hoursPerDay) },
    tornDownPerDay: (piecesPerCheck * hoursPerDay * 60) / intervalMinutes,
    perShift: shifts.map((shift, i) => {
      const found = (lengths[i] as { steadyState: Followed }).steadyState;
      const minutes = { mean: times(found.mean === null ? null : found.mean - 0.5, intervalMinutes), p95: times(intervalsUntil(found), intervalMinutes) };
      return { shift, shiftInSigma: inSigma[i] as number, arl: found.mean, minutes, pieces: { mean: times(minutes.mean, piecesPerMinute), p95: times(minutes.p95, piecesPerMinute) } };
    }),
  };
}

/** Sigma of the plotted mean, and where the lines lie as a share of where it would put them. */
function sigmasOf({ components, piecesPerCheck, positionsPerPiece, limitsInclude }: CheckPlan, caller: string): { sigmaOfPoint: number; lines: number } {
  for (const [name, variance] of Object.entries(components)) if (!(variance >= 0 && variance <= 1e200)) throw new RangeError(`${caller}: needs a variance of 0 or more for ${name}, ${variance} given`);
  for (const [name, count] of [['pieces a check', piecesPerCheck], ['positions a piece', positionsPerPiece]] as const) {
    if (!(Number.isInteger(count) && count >= 1 && count <= 10_000)) throw new RangeError(`${caller}: needs a whole number of ${name} from 1 to 10,000, ${count} given`);
  }
  const within = components.piece / piecesPerCheck + components.position / (piecesPerCheck * positionsPerPiece);
  const all = components.check + within;
  if (!(all > 1e-200)) throw new RangeError(`${caller}: needs some variance, 0 given in all`);
  if (limitsInclude === 'short-term' && !(within > 1e-200)) throw new RangeError(`${caller}: needs variance within checks for limits that are made from it, 0 given`);
  return { sigmaOfPoint: Math.sqrt(all), lines: limitsInclude === 'long-term' ? 1 : Math.sqrt(within / all) };
}

/** Whatever the scheme measures in the sigma of its limits is `lines` times that in sigmas of the points. */
function walksOfScheme(scheme: Scheme, lines: number, caller: string): WalkAt {
  if (scheme.kind === 'ewma') return walksOfEwma({ lambda: scheme.lambda, width: scheme.width * lines }, caller);
  if (scheme.kind === 'cusum') return walksOfCusum({ k: scheme.k * lines, h: scheme.h * lines }, caller);
  requireRules(scheme.rules, caller);
  return walksOf(scheme.rules, lines);
}

/** Intervals within which so large a share of shifts has been seen, the shift at any moment before the first check. */
function intervalsUntil(followed: Followed): number | null {
  const points = pointsUntil(followed, LATE);
  if (points === null || points < 1) return points;
  const [before, after] = [survivalOf(followed, points - 1), survivalOf(followed, points)];
  // Signals at one check are spread evenly over the interval before, as the moments of the shift are.
  return before > after ? points - 1 + Math.min(1, Math.max(0, (before - (1 - LATE)) / (before - after))) : points;
}

function times(value: number | null, factor: number): number | null {
  const product = value === null ? Number.NaN : value * factor;
  return Number.isFinite(product) ? product : null;
}
