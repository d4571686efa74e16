import { setTimeout } from 'node:timers/promises';
import { Problem, type ProblemCode } from '#contract/problem';
import { recordReadings } from '../flows/record-readings.js';
import type { Actor } from '../platform/audit.js';
import { asProblem } from '../platform/problem.filter.js';
import { retryContention } from '../platform/retry-contention.js';
import { countForPlanner } from '../platform/table-statistics.js';
import type { Work } from '../platform/work.js';
import { FileReading } from './file-reading.js';
import type { ImportCheck } from './group-checks.js';
import { addProgress, findStoredImport, loadNames, moveImport } from './ingest.store.js';
import { inTurn } from './in-turn.js';
import type { Refusal } from './placed-row.js';
import { refusedCsv } from './refused-csv.js';
import type { SortingThreads } from './sorting-threads.js';
import { storedPlacesOf } from './stored-places.js';

const CHECKS_AT_ONCE = 400;

export type RunningImport = {
  work: Work; threads: SortingThreads; actor: Actor; id: number; now: () => Date; nudge: () => void;
  /** Where it is said that an import has ended, as long as the database cannot be told. */
  broken: Map<number, string>;
  closing: AbortSignal;
};

/** Stopped by a person, or taken by somebody else: no failure. */
class Stopped extends Error {}

/**
 * Stores the good rows of an import in transactions of some hundred checks. Progress is part of each transaction, so what
 * the screen says is what is stored; a broken import is continued from there, since stored readings are recognised.
 * Answers what stopped it; null where it ended, or a person stopped it.
 */
export async function runImport({ work, threads, actor, id, now, nudge, broken, closing }: RunningImport): Promise<ProblemCode | null> {
  const { plantId } = actor;
  try {
    const [stored, names] = await Promise.all([
      findStoredImport(work.read, plantId, id), loadNames(work.read, plantId),
      moveImport(work.read, plantId, id, ['running'], { rows: 0, done: 0, readings: 0, refused: 0, refusedCsv: null }),
    ]);
    if (!stored?.layout || !stored.mapping) throw new Problem('wrong-state', 'The import has no mapping yet.');
    const { layout, mapping } = stored;
    const reading = new FileReading(threads.sort({ content: stored.content, layout, mapping, names, now: now() }, storedPlacesOf(work.read, plantId)));
    const whatWasRead = async () => ({
      rows: reading.checks, readings: reading.readings, refused: new Set(reading.refusals.map(({ row }) => row)).size,
      refusedCsv: reading.refusals.length > 0 ? await refusedCsv(stored.content, layout, reading.refusals) : null,
    });
    let expected = 0;
    let counting: Promise<void> | undefined;
    try {
      await inTurn(reading.slices(CHECKS_AT_ONCE, (seen) => { expected = seen; return moveImport(work.read, plantId, id, ['running'], { rows: expected }); }), async (slice, turn) => {
        for (const refusal of await storeSlice(work, actor, id, slice, now(), turn)) reading.refusals.push(refusal);
        // Beside the batches that follow; where it fails, storing has failed or goes on more slowly.
        if (expected > CHECKS_AT_ONCE) counting ??= countForPlanner(work.read).catch(() => {}).finally(() => { counting = undefined; });
        nudge();
      });
      await counting;
    } catch (error) {
      // All that is refused is told also of an import that stops on the way, unless the server itself stops.
      await (closing.aborted ? reading.leave() : reading.toTheEnd().then(async () => moveImport(work.read, plantId, id, ['running', 'stopped'], await whatWasRead()))).catch(() => {});
      throw error;
    }
    await moveImport(work.read, plantId, id, ['running'], { state: 'done', finishedAt: now(), problem: null, ...await whatWasRead() });
    return null;
  } catch (error) {
    if (error instanceof Stopped) return null;
    console.error(`seamledger: import ${id} was stopped: ${error instanceof Error ? error.message.trim().split('\n').at(-1) : 'unknown error'}`);
    await sayStopped(work, plantId, id, whyStopped(error), broken, closing);
    return asProblem(error).code;
  }
}

/** One line for the person who looks at the import. */
function whyStopped(error: unknown): string {
  const problem = asProblem(error);
  const rest = 'What is counted here is stored, nothing is lost, and nothing is stored twice when you continue.';
  if (problem.code === 'disk-full') return `The disk of the database is full: free some space, then continue. ${rest}`;
  if (problem.code === 'database-unavailable') return `The database did not answer: continue when it is back. ${rest}`;
  if (problem.code === 'internal') return `Something went wrong on our side, it is in the log of the server. ${rest}`;
  return problem.detail ?? problem.message;
}

/** A full disk may refuse even this: then it is tried again for some minutes; the next start of the server finds what is left. */
async function sayStopped(work: Work, plantId: number, id: number, problem: string, broken: Map<number, string>, closing: AbortSignal): Promise<void> {
  broken.set(id, problem);
  for (let attempt = 0; attempt < 60 && broken.get(id) === problem && !closing.aborted; attempt += 1) {
    const told = await moveImport(work.read, plantId, id, ['running'], { state: 'stopped', problem }).then(() => true, () => false);
    if (told) { broken.delete(id); return; }
    await setTimeout(5000, undefined, { ref: false, signal: closing }).catch(() => {});
  }
}

async function storeSlice(work: Work, actor: Actor, id: number, slice: readonly ImportCheck[], now: Date, turn: Promise<void>): Promise<Refusal[]> {
  try {
    await storeChecks(work, actor, id, slice, now, turn);
    return [];
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    if (slice.length === 1) {
      const reason = [error.detail ?? error.message, ...(error.errors ?? []).map((entry) => `${entry.field}: ${entry.expected}`)].join('; ');
      if (!(await addProgress(work.read, actor.plantId, id, { done: 1, stored: 0 }))) throw new Stopped();
      return (slice[0]?.rows ?? []).map((row) => ({ row, reason, sort: reason, why: null }));
    }
    // Something in the slice is refused: halve it until that check stands alone, so that the others are stored.
    const middle = Math.ceil(slice.length / 2);
    return [...(await storeSlice(work, actor, id, slice.slice(0, middle), now, turn)), ...(await storeSlice(work, actor, id, slice.slice(middle), now, turn))];
  }
}

async function storeChecks(work: Work, actor: Actor, id: number, slice: readonly ImportCheck[], now: Date, turn: Promise<void>): Promise<void> {
  await retryContention(() => work.run(async (tx) => {
    const recorded = await recordReadings(tx, actor, slice.map((entry) => entry.check), { now, source: 'import', importId: id, turn });
    const stored = slice.reduce((sum, { readings }, index) => sum + (recorded.repeated[index] ? 0 : readings), 0);
    if (!(await addProgress(tx, actor.plantId, id, { done: slice.length, stored }))) throw new Stopped();
  }, 240_000));
}
