import type { RunRule } from './verdict.js';
import { zoneWindow } from './zone-window.js';

/**
 * Two of three points in a row beyond two sigma on one side; points beyond three count.
 * Source: Western Electric, Statistical Quality Control Handbook, 1956; Montgomery & Runger, Applied Statistics and
 * Probability for Engineers, 3rd ed., p. 606.
 */
export const twoOfThree: RunRule = zoneWindow(3, 2, 2);
