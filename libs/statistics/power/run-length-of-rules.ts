import { inOrder, RUN_RULES } from '../rules/run-rules.js';
import type { RuleName } from '../rules/verdict.js';
import { zoneChain } from './run-length-of-rules-chain.js';
import { stepModel, walkSteps } from './run-length-of-rules-steps.js';
import { type Walk, walkZones } from './run-length-of-rules-zones.js';

export type RunLength = {
  /** Mean number of points up to and with the first signal, the memory empty at first. Null beyond the range of numbers. */
  readonly arl: number | null;
  /** The same for a shift that comes after a long time without one and without a signal. */
  readonly steadyStateArl: number | null;
  /** The fewest points within which so large a share of series has signalled. */
  readonly percentiles: readonly { readonly share: number; readonly points: number | null }[];
  /** Probability of no signal within so many points. */
  readonly survival: readonly { readonly points: number; readonly share: number }[];
  /** Long-run probability that a point of a process without a shift is the first to signal: one false alarm in 1/x points. */
  readonly falseAlarm: number;
};

const SHARES = [0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95] as const;

/**
 * Run length of a set of run rules on a chart of independent normal points with known limits, whose mean has moved by
 * `shift` sigma of the plotted statistic. The memories of the rules as they are shipped are the states of a Markov
 * chain that a first signal ends; the probability of surviving is added up point by point until the survivors shrink by
 * a constant factor, and the rest is a geometric series.
 * Source: Champ & Woodall 1987, Exact results for Shewhart control charts with supplementary runs rules, Technometrics
 * 29(4); Brook & Evans 1972, Biometrika 59, for the chain. `steadyStateArl` starts from the conditional steady state:
 * the limiting distribution of the memory in control given no signal so far (Crosier 1986, Technometrics 28, who names
 * it so and the cyclical one besides).
 * Accuracy: 1e-9 relative; 1e-8 for steadyStateArl of a shift where trend or alternation is among the rules.
 * @param options.survivalAt numbers of points at which the survival is wanted
 * @throws RangeError when no rule or an unknown one is named, the shift is not finite, a number of points is not whole
 * and 0 or more
 */
export function runLengthOfRules(rules: readonly RuleName[], shift: number, options: { readonly survivalAt?: readonly number[] } = {}): RunLength {
  return runLengthsOfRules(rules, [shift], options)[0] as RunLength;
}

/**
 * runLengthOfRules for several shifts: the chain is built, and followed in control, once for all.
 * @param options.progress is told the share of the shifts that is done
 * @throws RangeError as runLengthOfRules does
 */
export function runLengthsOfRules(
  rules: readonly RuleName[], shifts: readonly number[], options: { readonly survivalAt?: readonly number[]; readonly progress?: (share: number) => void } = {},
): RunLength[] {
  const { survivalAt = [], progress } = options;
  requireRules(rules, 'runLengthOfRules');
  for (const [i, shift] of shifts.entries()) requireShift(shift, 'runLengthOfRules', i + 1);
  const unfit = survivalAt.findIndex((points) => !Number.isSafeInteger(points) || points < 0);
  if (unfit >= 0) throw new RangeError(`runLengthOfRules: needs whole numbers of points, 0 or more, ${String(survivalAt[unfit])} given at place ${unfit + 1}`);
  const walkAt = walksOf(rules);
  const inControl = walkAt(0);
  const usual = unfold(inControl, inControl.start);
  return shifts.map((shift, i) => {
    const walk = walkAt(shift);
    const shifted = shift === 0 ? usual : unfold(walk, walk.start);
    const steady = unfold(walk, usual.settled, walkAt(shift, 0));
    progress?.((i + 1) / shifts.length);
    return {
      arl: shifted.mean,
      steadyStateArl: steady.mean,
      percentiles: SHARES.map((share) => ({ share, points: pointsUntil(shifted, share) })),
      survival: survivalAt.map((points) => ({ points, share: survivalOf(shifted, points) })),
      falseAlarm: usual.hazard,
    };
  });
}

export function requireRules(rules: readonly RuleName[], caller: string): void {
  const unknown = rules.find((name) => !(name in RUN_RULES));
  if (unknown !== undefined) throw new RangeError(`${caller}: needs names of rules, "${String(unknown)}" given`);
  if (rules.length === 0) throw new RangeError(`${caller}: needs at least one rule, none given`);
}

export function requireShift(shift: number, caller: string, place = 1): void {
  if (!Number.isFinite(shift)) throw new RangeError(`${caller}: needs a finite shift in sigma of the plotted statistic, ${shift} given as shift ${place}`);
}

/** The chain of a set of rules at each shift. `before` is where the mean was when the last point was taken. */
export function walksOf(rules: readonly RuleName[]): (shift: number, before?: number) => Walk {
  const bySteps = inOrder(rules).some((name) => RUN_RULES[name].sees === 'step');
  const chain = zoneChain(rules, bySteps);
  if (!bySteps) return (shift) => walkZones(chain, shift);
  const model = stepModel(rules, chain);
  return (shift, before = shift) => walkSteps(model, shift, before);
}

/** Survival for as long as it was followed, and how it goes on: by the factor 1 - hazard a point. */
type Unfolded = { readonly survival: readonly number[]; readonly hazard: number; readonly mean: number | null; readonly settled: Float64Array };

/** The longest pattern has fifteen points: a hazard that has stood still for twice as many will not move again. */
const STANDS_STILL = 30;
const MOST_POINTS = 50_000;

function unfold(walk: Walk, start: Float64Array, opening: Walk = walk): Unfolded {
  let from = Float64Array.from(start);
  let to = new Float64Array(from.length);
  const survival = [1];
  let mass = 1;
  let total = 0;
  let hazard = 0;
  let still = 0;
  // Where nearly all have signalled, what is left adds nothing to the mean.
  for (let point = 0; still < STANDS_STILL && mass > 1e-250; point += 1) {
    if (point === MOST_POINTS) throw new RangeError(`runLengthOfRules: needs a run length that settles within ${MOST_POINTS} points, these rules at this shift do not`);
    total += mass;
    const signalled = (point === 0 ? opening : walk).step(from, to);
    const now = signalled / mass;
    still = Math.abs(now - hazard) <= 1e-12 * now ? still + 1 : 0;
    hazard = now;
    [from, to] = [to, from];
    mass = from.reduce((sum, chance) => sum + chance, 0);
    survival.push(Math.min(1, mass));
  }
  const rest = mass <= 1e-250 ? 0 : mass / hazard;
  const mean = total + rest;
  return { survival, hazard, mean: Number.isFinite(mean) ? mean : null, settled: mass > 0 ? from.map((chance) => chance / mass) : from };
}

function survivalOf({ survival, hazard }: Unfolded, points: number): number {
  const known = survival[points];
  if (known !== undefined) return known;
  const last = survival.length - 1;
  return (survival[last] as number) * Math.exp((points - last) * Math.log1p(-hazard));
}

function pointsUntil({ survival, hazard }: Unfolded, share: number): number | null {
  const left = 1 - share;
  const within = survival.findIndex((chance) => chance <= left);
  if (within >= 0) return within;
  const last = survival.length - 1;
  const points = last + Math.ceil(Math.log(left / (survival[last] as number)) / Math.log1p(-hazard));
  return Number.isFinite(points) ? points : null;
}
