import { sameSideRun } from './same-side-run.js';
import type { RunRule } from './verdict.js';

/**
 * Eight points in a row on one side of the centre line. A run of ten fires at its 8th, 9th and 10th point.
 * Source: Western Electric, Statistical Quality Control Handbook, 1956; Montgomery & Runger, Applied Statistics and
 * Probability for Engineers, 3rd ed., p. 606.
 */
export const eightInARow: RunRule = sameSideRun(8);
