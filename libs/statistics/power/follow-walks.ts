import type { Walk } from './run-length-of-rules-zones.js';

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

/** The scheme at each shift. `before` is where the mean was when the last point was taken, where that matters. */
export type WalkAt = (shift: number, before?: number) => Walk;

/** Survival for as long as it was followed, and how it goes on: by the factor 1 - hazard a point. */
export type Followed = { readonly survival: readonly number[]; readonly hazard: number; readonly mean: number | null };
/** From an empty memory, and from the one that a long time without a shift and without a signal leaves. */
export type FollowedShift = { readonly zeroState: Followed; readonly steadyState: Followed };

export type RunLengthOptions = { readonly survivalAt?: readonly number[]; readonly progress?: (share: number) => void };

const SHARES = [0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95] as const;
/** The longest pattern has fifteen points: a hazard that has stood still for twice as many will not move again. */
const STANDS_STILL = 30;
const MOST_POINTS = 50_000;

/**
 * Run lengths of a scheme at several shifts, as RunLength says.
 * @throws RangeError when a shift is not finite, a number of points not whole and 0 or more (1-based position is named),
 * or the scheme does not settle within 50,000 points
 */
export function runLengthsOfWalks(walkAt: WalkAt, shifts: readonly number[], { survivalAt = [], progress }: RunLengthOptions, caller: string): RunLength[] {
  const unfit = survivalAt.findIndex((points) => !Number.isSafeInteger(points) || points < 0);
  if (unfit >= 0) throw new RangeError(`${caller}: needs whole numbers of points, 0 or more, ${String(survivalAt[unfit])} given at place ${unfit + 1}`);
  const { hazard, lengths } = followWalks(walkAt, shifts, caller, progress);
  return lengths.map(({ zeroState, steadyState }) => ({
    arl: zeroState.mean,
    steadyStateArl: steadyState.mean,
    percentiles: SHARES.map((share) => ({ share, points: pointsUntil(zeroState, share) })),
    survival: survivalAt.map((points) => ({ points, share: survivalOf(zeroState, points) })),
    falseAlarm: hazard,
  }));
}

/**
 * Follows a scheme point by point at several shifts; in control once for all. `hazard` is the long-run chance a point in
 * control, `inControl` the run length there. The steady state is the conditional one: the limiting distribution of the
 * memory in control given no signal so far (Crosier 1986, Technometrics 28).
 * @throws RangeError when a shift is not finite (1-based position is named) or the scheme does not settle
 */
export function followWalks(walkAt: WalkAt, shifts: readonly number[], caller: string, progress?: (share: number) => void): { inControl: Followed; hazard: number; lengths: FollowedShift[] } {
  for (const [i, shift] of shifts.entries()) requireShift(shift, caller, i + 1);
  const still = walkAt(0);
  const inControl = follow(still, still.start, caller);
  const lengths = shifts.map((shift, i) => {
    const walk = walkAt(shift);
    const zeroState = shift === 0 ? inControl : follow(walk, walk.start, caller);
    const steadyState = follow(walk, inControl.settled, caller, walkAt(shift, 0));
    progress?.((i + 1) / shifts.length);
    return { zeroState: plain(zeroState), steadyState: plain(steadyState) };
  });
  return { inControl: plain(inControl), hazard: inControl.hazard, lengths };
}

export function requireShift(shift: number, caller: string, place = 1): void {
  if (!Number.isFinite(shift)) throw new RangeError(`${caller}: needs a finite shift in sigma of the plotted statistic, ${shift} given as shift ${place}`);
}

/** Probability of no signal within so many points. */
export function survivalOf({ survival, hazard }: Followed, points: number): number {
  const known = survival[points];
  if (known !== undefined) return known;
  const last = survival.length - 1;
  return (survival[last] as number) * Math.exp((points - last) * Math.log1p(-hazard));
}

/** The fewest points within which so large a share of series has signalled; null beyond the range of numbers. */
export function pointsUntil({ survival, hazard }: Followed, share: number): number | null {
  const left = 1 - share;
  const within = survival.findIndex((chance) => chance <= left);
  if (within >= 0) return within;
  const last = survival.length - 1;
  const points = last + Math.ceil(Math.log(left / (survival[last] as number)) / Math.log1p(-hazard));
  return Number.isFinite(points) ? points : null;
}

const plain = ({ survival, hazard, mean }: Followed): Followed => ({ survival, hazard, mean });

/** Adds up the survival until the survivors shrink by a constant factor; the rest is a geometric series. */
function follow(walk: Walk, start: Float64Array, caller: string, opening: Walk = walk): Followed & { readonly settled: Float64Array } {
  let from = Float64Array.from(start);
  let to = new Float64Array(from.length);
  const survival = [1];
  let mass = 1;
  let total = 0;
  let hazard = 0;
  let still = 0;
  // Where nearly all have signalled, what is left adds nothing to the mean.
  for (let point = 0; still < STANDS_STILL && mass > 1e-250; point += 1) {
    if (point === MOST_POINTS) throw new RangeError(`${caller}: needs a run length that settles within ${MOST_POINTS} points, the scheme given at this shift does not`);
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
