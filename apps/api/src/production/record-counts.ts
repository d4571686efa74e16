import type { AnswerOf } from '#contract/endpoint';
import { type FieldError, Problem } from '#contract/problem';
import type { ProductionCount, recordProductionCounts as contract } from '#contract/production';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { findKnownMachines, findOverlaps, upsertCounts } from './production.store.js';

const CLOCK_SLACK_MS = 5 * 60_000;

/** Stores a batch of counts, all or none: the same batch again changes nothing, another number for the same span replaces it and leaves the old one in the audit trail. */
export async function recordCounts(tx: Tx, actor: Actor, counts: readonly ProductionCount[], now: Date): Promise<AnswerOf<typeof contract>> {
  const known = await findKnownMachines(tx, actor.plantId, counts.map(({ machineId }) => machineId));
  const first = new Map<string, number>();
  const errors: FieldError[] = counts.flatMap(({ machineId, at }, row) => {
    const moment = new Date(at).getTime();
    const before = first.get(`${machineId}/${moment}`);
    if (before === undefined) first.set(`${machineId}/${moment}`, row);
    return [
      ...(known.has(machineId) ? [] : [{ field: `counts.${row}.machineId`, row: row + 1, expected: 'a machine of this plant' }]),
      ...(before === undefined ? [] : [{ field: `counts.${row}.at`, row: row + 1, expected: `one count of a machine and a moment; row ${before + 1} has the same` }]),
      ...(moment > now.getTime() + CLOCK_SLACK_MS ? [{ field: `counts.${row}.at`, row: row + 1, expected: 'a moment that is not in the future' }] : []),
    ];
  });
  refuse(errors);
  const { inserted, replaced } = await upsertCounts(tx, actor.plantId, counts);
  const overlaps = await findOverlaps(tx, actor.plantId, counts);
  refuse(overlaps.map(({ place, at, minutes }) => ({ field: `counts.${place}.at`, row: place + 1, expected: `a span that does not overlap the one of ${minutes} minutes from ${at.toISOString()}` })));
  if (inserted + replaced.length > 0) await record(tx, actor, 'production-counts.recorded', `machines ${[...known].sort((a, b) => a - b).join(', ')}`, { before: replaced.length > 0 ? replaced : undefined, after: { inserted, changed: replaced.length, first: counts[0]?.at, last: counts.at(-1)?.at } });
  return { stored: inserted, changed: replaced.length, same: counts.length - inserted - replaced.length };
}

function refuse(errors: readonly FieldError[]): void {
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors.slice(0, 50));
}
