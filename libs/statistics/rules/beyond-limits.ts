import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

/**
 * One point beyond three sigma. A point exactly on the limit is not a signal.
 * Source: Western Electric, Statistical Quality Control Handbook, 1956; Montgomery & Runger, Applied Statistics and
 * Probability for Engineers, 3rd ed., p. 606. Memory: 1 above, 2 below, 0 neither.
 */
export const beyondLimits: RunRule = {
  sees: 'zone',
  start: 0,
  step: (_state, z) => {
    if (z > 3 + BEYOND_TOLERANCE) return 1;
    return z < -3 - BEYOND_TOLERANCE ? 2 : 0;
  },
  fired: (state) => (state === 0 ? null : { side: state === 1 ? 'above' : 'below', back: 0 }),
};
