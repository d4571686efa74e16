import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

const RUN = 8;
const LINE = 1 + BEYOND_TOLERANCE;

/**
 * Eight points in a row more than one sigma from the centre line, some above it and some below: the middle is empty,
 * as when two machines are charted as one. Eight on the same side are another rule's.
 * Source: Nelson 1984, The Shewhart control chart - tests for special causes, Journal of Quality Technology 16(4), test 8.
 * Memory: 16 times the length of the run, plus how many of its last points lie on one side, both up to eight;
 * negative when that side is below.
 */
export const eightOutside: RunRule = {
  sees: 'zone',
  start: 0,
  step: (state, z) => {
    const side = z > LINE ? 1 : z < -LINE ? -1 : 0;
    if (side === 0) return 0;
    const before = Math.abs(state);
    const run = Math.min(RUN, (before >> 4) + 1);
    const same = state * side > 0 ? Math.min(RUN, (before & 15) + 1) : 1;
    return side * (run * 16 + same);
  },
  // A shorter tail on one side than the run is long means that the other side was visited within the last eight.
  fired: (state) => (Math.abs(state) >> 4 === RUN && (Math.abs(state) & 15) < RUN ? { side: 'both', back: RUN - 1 } : null),
};
