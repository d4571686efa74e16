import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

const STEPS = 13;

/**
 * Fourteen points in a row that go up and down in turn: thirteen steps, each against the one before. Two equal points
 * are no step and break the pattern. Typical of two sources taken in turn, or of a setting corrected after each check.
 * Source: Nelson 1984, The Shewhart control chart - tests for special causes, Journal of Quality Technology 16(4), test 4.
 * Memory: number of alternating steps up to thirteen, negative when the last one went down.
 */
export const fourteenAlternating: RunRule = {
  sees: 'step',
  start: 0,
  step: (state, z, before) => {
    if (before === null) return 0;
    const step = z - before;
    // A step that goes on in the direction of the last one is itself the first of a new pattern.
    if (step > BEYOND_TOLERANCE) return state > 0 ? 1 : Math.min(STEPS, 1 - state);
    if (step < -BEYOND_TOLERANCE) return state < 0 ? -1 : Math.max(-STEPS, -1 - state);
    return 0;
  },
  fired: (state) => (state > -STEPS && state < STEPS ? null : { side: 'both', back: STEPS }),
};
