import type { PackDifference } from '#contract/packs';
import { listTheseAsStored } from '../../inspections/check-seals.store.js';
import type { ChainHead } from '../../platform/audit-chain.js';
import type { Tx } from '../../platform/work.js';
import { listDeletedSeals, listSealBreaks, listSealsSince, listSubjectsSince, listUndoneImports } from '../../records/seals.store.js';
import type { FoundDifference } from './compare-inputs.js';

const BATCH = 1000;
const UNEXPLAINED = ['altered', 'added', 'removed'] as const;
type Unexplained = (typeof UNEXPLAINED)[number];
const isUnexplained = (kind: PackDifference['kind']): kind is Unexplained => UNEXPLAINED.some((each) => each === kind);

/**
 * Asks the audit trail why stored evidence is not what was frozen at this head of its chain. A check that acts since have sealed, and that is
 * stored as it was sealed last, was corrected or recorded by them, unless one of them found it otherwise than the act before had left it; one whose import was undone, or that an act of retention
 * names, was taken back. Whatever the trail does not explain keeps its kind, and is serious.
 */
export async function explainDifferences(tx: Tx, plantId: number, head: ChainHead | null, found: readonly FoundDifference[]): Promise<PackDifference[]> {
  const asked = found.filter(({ kind, checks, subject }) => isUnexplained(kind) && (checks !== undefined || subject !== undefined));
  const seq = head?.seq ?? '0';
  const acts = asked.length === 0 ? null : { written: await writtenAsSealed(tx, plantId, seq, asked), gone: await takenBack(tx, plantId, asked), subjects: await listSubjectsSince(tx, plantId, seq) };
  return found.map(({ checks, subject, ...difference }) => {
    if (acts === null || !isUnexplained(difference.kind)) return difference;
    if (subject !== undefined) return acts.subjects.has(subject) ? { ...difference, kind: 'changed-since' } : difference;
    if (checks === undefined) return difference;
    if (checks.every((id) => acts.written.has(id))) return { ...difference, kind: difference.kind === 'added' ? 'recorded-later' : 'corrected' };
    return difference.kind === 'removed' && checks.every((id) => acts.gone.has(id)) ? { ...difference, kind: 'taken-back' } : difference;
  });
}

const checkIds = (asked: readonly FoundDifference[]): number[] => [...new Set(asked.flatMap(({ checks }) => checks ?? []))];

/** Checks that acts since have sealed, that still fit the newest seal, and that were not changed past the program before one of these acts. */
async function writtenAsSealed(tx: Tx, plantId: number, seq: string, asked: readonly FoundDifference[]): Promise<Set<number>> {
  const seals = await listSealsSince(tx, plantId, seq);
  const broken = new Set((await listSealBreaks(tx, plantId)).filter((each) => each.seq === null || BigInt(each.seq) > BigInt(seq)).map(({ checkId }) => checkId));
  const ids = checkIds(asked).filter((id) => seals.has(id) && !broken.has(id));
  const fit = new Set<number>();
  for (let from = 0; from < ids.length; from += BATCH) {
    for (const { id, voided, seal } of await listTheseAsStored(tx, plantId, ids.slice(from, from + BATCH))) if (!voided && seals.get(id) === seal) fit.add(id);
  }
  return fit;
}

/** Checks that are gone by an act: their import was undone, or they were deleted past their retention. */
async function takenBack(tx: Tx, plantId: number, asked: readonly FoundDifference[]): Promise<Set<number>> {
  const ids = checkIds(asked.filter(({ kind }) => kind === 'removed'));
  if (ids.length === 0) return new Set();
  const [deleted, undone] = [await listDeletedSeals(tx, plantId), await listUndoneImports(tx, plantId)];
  const gone = new Set(ids.filter((id) => deleted.has(id)));
  for (let from = 0; from < ids.length; from += BATCH) {
    for (const { id, voided, importId } of await listTheseAsStored(tx, plantId, ids.slice(from, from + BATCH))) if (voided && importId !== null && undone.has(importId)) gone.add(id);
  }
  return gone;
}
