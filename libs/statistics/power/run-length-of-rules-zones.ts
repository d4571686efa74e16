import { normalCdf, normalUpperTail } from '../distributions/normal.js';
import type { ZoneChain } from './run-length-of-rules-chain.js';

/** A chain that is followed point by point. The vectors hold the probability of each state while nothing has signalled. */
export type Walk = {
  /** Before the first point. */
  readonly start: Float64Array;
  /** One point more: fills `to` from `from`; answers the probability that this point is the first to signal. */
  readonly step: (from: Float64Array, to: Float64Array) => number;
};

/** Probability of a standard normal in each zone when the mean has moved by `shift`, from whichever tail keeps its digits. */
export function zoneChances(edges: readonly number[], shift: number): Float64Array {
  return Float64Array.from({ length: edges.length + 1 }, (_, zone) => {
    const lower = (edges[zone - 1] ?? Number.NEGATIVE_INFINITY) - shift;
    const upper = (edges[zone] ?? Number.POSITIVE_INFINITY) - shift;
    if (lower >= 0) return normalUpperTail(lower) - (upper === Number.POSITIVE_INFINITY ? 0 : normalUpperTail(upper));
    return (upper === Number.POSITIVE_INFINITY ? 1 : normalCdf(upper)) - (lower === Number.NEGATIVE_INFINITY ? 0 : normalCdf(lower));
  });
}

/** The chain of rules that see zones only: a finite Markov chain, exact. */
export function walkZones({ edges, zones, states, next }: ZoneChain, shift: number): Walk {
  const chances = zoneChances(edges, shift);
  const start = new Float64Array(states);
  start[0] = 1;
  return {
    start,
    step: (from, to) => {
      to.fill(0);
      let signalled = 0;
      for (let state = 0; state < states; state += 1) {
        const mass = from[state] as number;
        if (mass === 0) continue;
        for (let zone = 0; zone < zones; zone += 1) {
          const reached = next[state * zones + zone] as number;
          const part = mass * (chances[zone] as number);
          if (reached < 0) signalled += part;
          else to[reached] = (to[reached] as number) + part;
        }
      }
      return signalled;
    },
  };
}
