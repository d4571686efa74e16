
import { Problem } from '#contract/problem';
import { recordReadings } from '../flows/record-readings.js';
import type { Actor } from '../platform/audit.js';
import { asProblem } from '../platform/problem.filter.js';
import type { Work } from '../platform/work.js';
import type { ImportCheck } from './group-checks.js';
import { addProgress, findStoredImport, loadNames, moveImport } from './ingest.store.js';
import type { Refusal } from './map-rows.js';
import { refusedCsv } from './refused-csv.js';
import { sortRows } from './sort-rows.js';

const CHECKS_AT_ONCE = 400;

type Acting = Actor & { userId: number };
export type RunningImport = { work: Work; actor: Acting; id: number; now: () => Date; nudge: () => void };

/** Stopped by a person, or taken by somebody else: no failure. */
class Stopped extends Error {}

/**
 * Stores the good rows of an import in transactions of some hundred checks. Progress is part of each transaction, so what
 * the screen says is what is stored; a broken import is continued from there, since stored readings are recognised.
 */
export async function runImport({ work, actor, id, now, nudge }: RunningImport): Promise<void> {
  const { plantId } = actor;
  try {
    const stored = await findStoredImport(work.read, plantId, id);
    if (!stored?.layout || !stored.mapping) throw new Problem('wrong-state', 'The import has no mapping yet.');
    const { layout, mapping } = stored;
    const sorted = await sortRows(work.read, plantId, stored.content, layout, mapping, await loadNames(work.read, plantId), now());
    if ('missing' in sorted) throw new Problem('invalid-input', `The mapping lacks ${sorted.missing.join('; ')}.`);
    await moveImport(work.read, plantId, id, ['running'], { rows: sorted.checks.length, done: 0, readings: sorted.readings });
    const refusals: Refusal[] = [...sorted.refusals];
    for (let first = 0; first < sorted.checks.length; first += CHECKS_AT_ONCE) {
      refusals.push(...(await storeSlice(work, actor, id, sorted.checks.slice(first, first + CHECKS_AT_ONCE), now())));
      nudge();
    }
    const refusedRows = new Set(refusals.map((refusal) => refusal.row));
    await moveImport(work.read, plantId, id, ['running'], { state: 'done', finishedAt: now(), problem: null, refused: refusedRows.size, refusedCsv: refusals.length > 0 ? await refusedCsv(stored.content, layout, refusals) : null });
  } catch (error) {
    if (error instanceof Stopped) return;
    const problem = asProblem(error);
    await moveImport(work.read, plantId, id, ['running'], { state: 'stopped', problem: problem.detail ?? problem.message }).catch(() => {});
    throw error;
  }
}

async function storeSlice(work: Work, actor: Acting, id: number, slice: readonly ImportCheck[], now: Date): Promise<Refusal[]> {
  try {
    await storeChecks(work, actor, id, slice, now);
    return [];
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    if (slice.length === 1) {
      const reason = [error.detail ?? error.message, ...(error.errors ?? []).map((entry) => `${entry.field}: ${entry.expected}`)].join('; ');
      if (!(await addProgress(work.read, actor.plantId, id, { done: 1, stored: 0 }))) throw new Stopped();
      return (slice[0]?.rows ?? []).map((row) => ({ row, reason }));
    }
    // Something in the slice is refused: halve it until that check stands alone, so that the others are stored.
    const middle = Math.ceil(slice.length / 2);
    return [...(await storeSlice(work, actor, id, slice.slice(0, middle), now)), ...(await storeSlice(work, actor, id, slice.slice(middle), now))];
  }
}

function storeChecks(work: Work, actor: Acting, id: number, slice: readonly ImportCheck[], now: Date): Promise<void> {
  return work.run(async (tx) => {
    const recorded = await recordReadings(tx, actor, slice.map((entry) => entry.check), { now, source: 'import', importId: id });
    const stored = slice.reduce((sum, { check }, index) => sum + (recorded.repeated[index] ? 0 : check.characteristics.reduce((inside, entry) => inside + entry.readings.filter((reading) => reading !== null).length, 0)), 0);
    if (!(await addProgress(tx, actor.plantId, id, { done: slice.length, stored }))) throw new Stopped();
  }, 120_000);
}

