import type { SignalRow } from '#contract/signals';
import type { Scope } from '../platform/scope.js';

/** Signals of the same machine that ran at the same time may be of another customer's product: an auditor gets none of them named. */
export const signalRowOf = (row: SignalRow, scope: Scope | null): SignalRow => (scope ? { ...row, together: [] } : row);
