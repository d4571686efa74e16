import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

const RUN = 8;

/**
 * Eight points in a row on one side of the centre line. A point exactly on the line is on neither side: it ends the
 * run and is not counted. A run of ten fires at its 8th, 9th and 10th point, each time for the last eight.
 * Source: Western Electric, Statistical Quality Control Handbook, 1956; Montgomery & Runger, Applied Statistics and
 * Probability for Engineers, 3rd ed., p. 606. Memory: length of the run up to eight, negative below the line.
 */
export const eightInARow: RunRule = {
  start: 0,
  step: (state, z) => {
    if (z > BEYOND_TOLERANCE) return Math.min(RUN, Math.max(0, state) + 1);
    if (z < -BEYOND_TOLERANCE) return Math.max(-RUN, Math.min(0, state) - 1);
    return 0;
  },
  fired: (state) => {
    if (Math.abs(state) < RUN) return null;
    return { side: state > 0 ? 'above' : 'below', back: RUN - 1 };
  },
};
