import { sameSideRun } from './same-side-run.js';
import type { RunRule } from './verdict.js';

/**
 * Nine points in a row on one side of the centre line: one more than the zone test, for fewer false alarms.
 * Source: Nelson 1984, The Shewhart control chart - tests for special causes, Journal of Quality Technology 16(4), test 2.
 */
export const nineInARow: RunRule = sameSideRun(9);
