import { normalCdf, normalDensity, normalUpperTail } from '../distributions/normal.js';
import { type RunLength, type RunLengthOptions, runLengthsOfWalks, type WalkAt } from './follow-walks.js';
import { type Kernel, pass, placesBetween, WIDEST } from './kernel.js';

export type EwmaScheme = {
  /** Weight of the newest value, above 0 up to 1. */
  readonly lambda: number;
  /** Half width of the limits in sigmas of the average in its steady state, sigma sqrt(lambda/(2-lambda)). */
  readonly width: number;
  /** Where the average starts, in sigmas of the plotted statistic from the target, within the limits. By default 0. */
  readonly start?: number;
};

/**
 * Run lengths of an exponentially weighted moving average with fixed limits, target +- width sigma sqrt(lambda/(2-lambda)),
 * of independent normal values whose mean has moved by `shift` sigma of one value; for each shift.
 * Source: Crowder 1987, A simple method for studying run-length distributions of exponentially weighted moving average
 * charts, Technometrics 29(4), whose integral equation is discretised by Gauss-Legendre nodes and followed point by
 * point; Lucas & Saccucci 1990, Technometrics 32(1). steadyStateArl starts from the limiting distribution of the average
 * in control given no signal so far (Crosier 1986, Technometrics 28).
 * Accuracy: 1e-9 relative.
 * @param shifts in sigma of the plotted statistic
 * @throws RangeError when lambda is not above 0 and at most 1, width not positive, the start not within the limits, the
 * limits wider than 95 sigmas of a step of the average, a shift not finite, a number of points not whole and 0 or more,
 * or the average does not settle within 50,000 points
 */
export function runLengthsOfEwma(scheme: EwmaScheme, shifts: readonly number[], options: RunLengthOptions = {}): RunLength[] {
  return runLengthsOfWalks(walksOfEwma(scheme, 'runLengthsOfEwma'), shifts, options, 'runLengthsOfEwma');
}

/** The average at each shift, between its limits. @throws RangeError as runLengthsOfEwma does of the scheme */
export function walksOfEwma({ lambda, width, start = 0 }: EwmaScheme, caller: string): WalkAt {
  if (!(lambda > 0 && lambda <= 1)) throw new RangeError(`${caller}: needs a lambda above 0 and at most 1, ${lambda} given`);
  if (!(width > 0 && Number.isFinite(width))) throw new RangeError(`${caller}: needs a positive width of the limits, ${width} given`);
  const steps = (2 * width) / Math.sqrt(lambda * (2 - lambda));
  if (!(steps <= WIDEST)) throw new RangeError(`${caller}: needs a larger lambda or narrower limits, at most ${WIDEST.toFixed(1)} steps of the average apart, ${steps} given`);
  const limit = width * Math.sqrt(lambda / (2 - lambda));
  if (!(Math.abs(start) <= limit)) throw new RangeError(`${caller}: needs a start within the limits, up to ${limit} sigma from the target, ${start} given`);
  const { places, weights } = placesBetween(-limit, limit, steps);
  // The start is a state of its own, which nothing comes back to.
  const from = Float64Array.from([start, ...places]);
  return (shift) => {
    const kernel = kernelOf({ from, places, weights, lambda, limit, shift });
    const first = new Float64Array(kernel.size);
    first[0] = 1;
    return {
      start: first,
      step: (before, after) => {
        after.fill(0);
        return pass(kernel, before, after);
      },
    };
  };
}

type Discretised = { readonly from: Float64Array; readonly places: Float64Array; readonly weights: Float64Array; readonly lambda: number; readonly limit: number; readonly shift: number };

function kernelOf({ from, places, weights, lambda, limit, shift }: Discretised): Kernel {
  const size = from.length;
  const moves = new Float64Array(size * size);
  const exits = from.map((z, i) => {
    /** The value that takes the average from z to a place, in sigmas from the shifted mean. */
    const valueTo = (place: number): number => (place - (1 - lambda) * z) / lambda - shift;
    places.forEach((place, j) => {
      moves[i * size + j + 1] = ((weights[j] as number) / lambda) * normalDensity(valueTo(place));
    });
    return normalCdf(valueTo(-limit)) + normalUpperTail(valueTo(limit));
  });
  return { size, moves, exits };
}
