import { normalCdf, normalDensity, normalUpperTail } from '../distributions/normal.js';
import { type RunLength, type RunLengthOptions, runLengthsOfWalks, type WalkAt } from './follow-walks.js';
import { type Kernel, pass, placesBetween, WIDEST } from './kernel.js';

export type CusumScheme = {
  /** Allowance and decision interval in sigmas of the plotted statistic. */
  readonly k: number;
  readonly h: number;
  /** Where the sums start, in sigmas: 0, or h/2 for a fast initial response. By default 0. */
  readonly headStart?: number;
  /** Both sums, or the one that finds shifts to that side. By default both. */
  readonly sides?: 'both' | 'above' | 'below';
};

/**
 * Run lengths of tabular cumulative sums, C+ = max(0, C+ + x - k) and C- likewise, which signal above h, of independent
 * normal values whose mean has moved by `shift` sigma of one value; for each shift.
 * One sum is followed on the Gauss-Legendre nodes of its integral equation with an atom at zero (Page 1954, Biometrika
 * 41; Goel & Wu 1971, Technometrics 13(2); Vance 1986, Journal of Quality Technology 18(3)); the head start after Lucas &
 * Crosier 1982, Technometrics 24(3). When one of two sums signals, the other is at zero (Kemp 1961, JRSS B 23), so those
 * who leave by the one side are taken from the atom of the other, and each sum is followed among the survivors of both:
 * for the mean this is 1/ARL = 1/ARL+ + 1/ARL- (with head start as Lucas & Crosier combine the sides); here also the
 * percentiles and the conditional steady state (Crosier 1986, Technometrics 28) are those of both sums.
 * Accuracy: 1e-9 relative. Two sums without any allowance add up to the range of the path, which never falls: they have
 * no steady state.
 * @param shifts in sigma of the plotted statistic
 * @throws RangeError when k is negative (two sums: or 0), h not positive or above 95, the head start not from 0 to h (two sums: to h/2 + k),
 * a shift not finite, a number of points not whole and 0 or more, or the sums do not settle within 50,000 points
 */
export function runLengthsOfCusum(scheme: CusumScheme, shifts: readonly number[], options: RunLengthOptions = {}): RunLength[] {
  return runLengthsOfWalks(walksOfCusum(scheme, 'runLengthsOfCusum'), shifts, options, 'runLengthsOfCusum');
}

/** The sums at each shift, up to h. @throws RangeError as runLengthsOfCusum does of the scheme */
export function walksOfCusum({ k, h, headStart = 0, sides = 'both' }: CusumScheme, caller: string): WalkAt {
  if (!(k >= 0 && Number.isFinite(k))) throw new RangeError(`${caller}: needs an allowance k of 0 or more, ${k} given`);
  if (sides === 'both' && k === 0) throw new RangeError(`${caller}: needs an allowance k above 0 for sums of both sides, ${k} given`);
  if (!(h > 0 && h <= WIDEST)) throw new RangeError(`${caller}: needs a decision interval h above 0 and up to ${WIDEST.toFixed(1)} sigmas, ${h} given`);
  // Beyond this the other sum need not be at zero when one signals.
  const most = sides === 'both' ? Math.min(h, h / 2 + k) : h;
  if (!(headStart >= 0 && headStart <= most)) throw new RangeError(`${caller}: needs a head start from 0 to ${most} sigmas, ${headStart} given`);
  const { places, weights } = placesBetween(0, h, h);
  // First the atom at zero, then the places above it, last the head start, which nothing comes back to.
  const from = Float64Array.from([0, ...places, ...(headStart > 0 ? [headStart] : [])]);
  const size = from.length;
  const begin = headStart > 0 ? size - 1 : 0;
  const sumAt = (drift: number): Kernel => kernelOf({ from, places, weights, h, drift });
  if (sides !== 'both') {
    return (shift) => {
      const kernel = sumAt((sides === 'above' ? shift : -shift) - k);
      const start = new Float64Array(size);
      start[begin] = 1;
      return {
        start,
        step: (before, after) => {
          after.fill(0);
          return pass(kernel, before, after);
        },
      };
    };
  }
  return (shift) => {
    const [up, down] = [sumAt(shift - k), sumAt(-shift - k)];
    const start = new Float64Array(2 * size);
    // Each half of the vector holds the distribution of one sum, at half its mass.
    start[begin] = 0.5;
    start[size + begin] = 0.5;
    return { start, step: (before, after) => passBoth(up, down, before, after) };
  };
}

/** One point of both sums among those who have signalled on neither side. */
function passBoth(up: Kernel, down: Kernel, before: Float64Array, after: Float64Array): number {
  const { size } = up;
  after.fill(0);
  const above = pass(up, before, after);
  const below = pass(down, before, after, size);
  after[0] = Math.max(0, (after[0] as number) - below);
  after[size] = Math.max(0, (after[size] as number) - above);
  // The side that signals more has lost its mass without a difference of like numbers; the other is brought to it.
  const masses = [massOf(after, 0, size), massOf(after, size, size)] as const;
  const [keeps, brought] = above >= below ? [0, 1] : [1, 0];
  const factor = masses[brought as 0 | 1] > 0 ? masses[keeps as 0 | 1] / masses[brought as 0 | 1] : 0;
  for (let i = brought * size; i < (brought + 1) * size; i += 1) after[i] = (after[i] as number) * factor;
  // Each half holds half the mass, so each lost half a mass for every series that signalled.
  return 2 * (above + below);
}

function massOf(vector: Float64Array, at: number, size: number): number {
  let mass = 0;
  for (let i = at; i < at + size; i += 1) mass += vector[i] as number;
  return mass;
}

type Discretised = { readonly from: Float64Array; readonly places: Float64Array; readonly weights: Float64Array; readonly h: number; readonly drift: number };

function kernelOf({ from, places, weights, h, drift }: Discretised): Kernel {
  const size = from.length;
  const moves = new Float64Array(size * size);
  const exits = from.map((sum, i) => {
    moves[i * size] = normalCdf(-sum - drift);
    places.forEach((place, j) => {
      moves[i * size + j + 1] = (weights[j] as number) * normalDensity(place - sum - drift);
    });
    return normalUpperTail(h - sum - drift);
  });
  return { size, moves, exits };
}
