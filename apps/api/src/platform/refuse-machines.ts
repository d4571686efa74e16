import { type FieldError, Problem } from '#contract/problem';
import type { Acting } from './endpoint.js';

/** Refuses what is of a machine that the sender's token does not cover; null is a whole line, which only a token for every machine covers. */
export function refuseMachines({ machineIds }: Acting, sent: readonly { machineId: number | null; field: string; row?: number }[]): void {
  if (!machineIds) return;
  const errors: FieldError[] = sent.filter(({ machineId }) => machineId === null || !machineIds.includes(machineId))
    .map(({ field, row }) => ({ field, ...(row === undefined ? {} : { row }), expected: 'a machine that this token may send for' }));
  if (errors.length > 0) throw new Problem('not-allowed', 'The token is for other machines.', errors.slice(0, 50));
}
