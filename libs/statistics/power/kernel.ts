import { gaussLegendre } from '../numeric/gauss-legendre.js';

/** Where a discretised scheme goes from each of its states in one point. */
export type Kernel = {
  readonly size: number;
  /** Chance to go from state i to state j, `moves[i * size + j]`. */
  readonly moves: Float64Array;
  /** Chance to signal from state i. */
  readonly exits: Float64Array;
};

/** The gaussLegendre rule allows no more nodes; at five a sigma they cover 95. */
const MOST_NODES = 500;
const LEAST_NODES = 24;
const NODES_A_SIGMA = 5;
export const WIDEST = (MOST_NODES - LEAST_NODES) / NODES_A_SIGMA;

/**
 * Places between two ends and their weights, as many as a density of one sigma on them needs for its last digits: the
 * kernel is smooth in between, so the error falls faster than exponentially with the nodes.
 * @param sigmas width of the interval in sigmas of one step
 */
export function placesBetween(lower: number, upper: number, sigmas: number): { readonly places: Float64Array; readonly weights: Float64Array } {
  const { nodes, weights } = gaussLegendre(Math.min(MOST_NODES, LEAST_NODES + Math.ceil(NODES_A_SIGMA * sigmas)));
  const half = (upper - lower) / 2;
  return { places: nodes.map((node) => lower + half * (node + 1)), weights: weights.map((weight) => weight * half) };
}

/** One point: adds what `from` passes on to `to`, both from `at` on; answers what signals. */
export function pass({ size, moves, exits }: Kernel, from: Float64Array, to: Float64Array, at = 0): number {
  let signalled = 0;
  for (let i = 0; i < size; i += 1) {
    const mass = from[at + i] as number;
    if (mass === 0) continue;
    signalled += mass * (exits[i] as number);
    for (let j = 0, row = i * size; j < size; j += 1) to[at + j] = (to[at + j] as number) + mass * (moves[row + j] as number);
  }
  return signalled;
}
