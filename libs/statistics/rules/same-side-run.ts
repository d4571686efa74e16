import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

/**
 * The rule "`length` points in a row on one side of the centre line". A point exactly on the line is on neither side:
 * it ends the run and is not counted. Nothing restarts: a longer run fires at every point from the `length`th on, each
 * time for the last `length`. Memory: length of the run up to `length`, negative below the line.
 */
export function sameSideRun(length: number): RunRule {
  return {
    sees: 'zone',
    start: 0,
    step: (state, z) => {
      if (z > BEYOND_TOLERANCE) return state < 0 ? 1 : Math.min(length, state + 1);
      if (z < -BEYOND_TOLERANCE) return state > 0 ? -1 : Math.max(-length, state - 1);
      return 0;
    },
    fired: (state) => {
      if (state > -length && state < length) return null;
      return { side: state > 0 ? 'above' : 'below', back: length - 1 };
    },
  };
}
