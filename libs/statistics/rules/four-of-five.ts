import type { RunRule } from './verdict.js';
import { zoneWindow } from './zone-window.js';

/**
 * Four of five points in a row beyond one sigma on one side. The boundary is strict here; the textbook below says
 * "one sigma or beyond", which differs only for points exactly on the line.
 * Source: Western Electric, Statistical Quality Control Handbook, 1956; Montgomery & Runger, Applied Statistics and
 * Probability for Engineers, 3rd ed., p. 606.
 */
export const fourOfFive: RunRule = zoneWindow(5, 4, 1);
