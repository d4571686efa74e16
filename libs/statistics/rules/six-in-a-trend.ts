import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

const STEPS = 5;

/**
 * Six points in a row, each above the one before, or each below it: five steps one way. Two equal points are no step
 * and break the trend, so coarse readings make it rarer. It looks at no line; a drift is "above" when it rises.
 * Source: Nelson 1984, The Shewhart control chart - tests for special causes, Journal of Quality Technology 16(4), test 3.
 * Memory: number of steps up to five, negative when falling.
 */
export const sixInATrend: RunRule = {
  sees: 'step',
  start: 0,
  step: (state, z, before) => {
    if (before === null) return 0;
    const step = z - before;
    if (step > BEYOND_TOLERANCE) return state < 0 ? 1 : Math.min(STEPS, state + 1);
    if (step < -BEYOND_TOLERANCE) return state > 0 ? -1 : Math.max(-STEPS, state - 1);
    return 0;
  },
  fired: (state) => {
    if (state > -STEPS && state < STEPS) return null;
    return { side: state > 0 ? 'above' : 'below', back: STEPS };
  },
};
