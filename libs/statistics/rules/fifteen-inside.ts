import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

const RUN = 15;

/**
 * Fifteen points in a row within one sigma of the centre line, on either side: too calm. Limits too wide, or readings
 * of different sources mixed within each subgroup. A point exactly on the one-sigma line is within.
 * Source: Nelson 1984, The Shewhart control chart - tests for special causes, Journal of Quality Technology 16(4), test 7.
 * Memory: length of the run up to fifteen.
 */
export const fifteenInside: RunRule = {
  sees: 'zone',
  start: 0,
  step: (state, z) => (Math.abs(z) > 1 + BEYOND_TOLERANCE ? 0 : Math.min(RUN, state + 1)),
  fired: (state) => (state < RUN ? null : { side: 'both', back: RUN - 1 }),
};
