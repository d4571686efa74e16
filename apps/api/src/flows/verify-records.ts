import { type CheckFault, type RecordFault, toldKind, type VerificationView } from '#contract/records';
import { listChecksAsStored } from '../inspections/check-seals.store.js';
import { type ChainFault, type ChainHead, type NotedHead, verifyAuditChain } from '../platform/audit-chain.js';
import { readOneMoment } from '../platform/one-moment.js';
import type { Tx, Work } from '../platform/work.js';
import { findWholePack, listPackHeads, listPackIds } from '../packs/packs.store.js';
import { findFirstSealed, listDeletedSeals, listSealBreaks, listSeals, listUndoneImports } from '../records/seals.store.js';
import { listSignatureHeads } from '../records/signatures.store.js';
import { compareWithTold } from '../records/told-records.store.js';

export type Verification = {
  auditRows: number; head: ChainHead | null; auditFaults: ChainFault[];
  checks: number;
  /**
   * changed: differs from its seal. gone: sealed, not stored. unsealed: stored past the program. taken-back: marked as taken back by no undone
   * import. changed-before: an act that sealed it anew found it otherwise than the act before had left it.
   */
  checkFaults: CheckFault[];
  /** Stored before this version began to seal: nothing can be said about them. */
  checksWithoutSeal: number;
  /** Limits, specifications, studies, packs and signatures beside what the trail told of them. */
  records: VerificationView['records']; recordFaults: RecordFault[];
  /** How many noted heads of the chain were compared. */
  notedHeads: number;
};

const BATCH = 1000;
const MOST_MS = 1_800_000;

/**
 * Everything of a plant against its trail, with the heads that signatures and packs noted and those given (`typed`), at
 * one moment of the database: what is being written meanwhile is no fault. Reads only.
 */
export function verifyPlant(work: Work, plantId: number, typed: readonly NotedHead[] = []): Promise<Verification> {
  return work.run(async (tx) => {
    await readOneMoment(tx);
    return verifyRecords(tx, plantId, [...typed, ...(await listSignatureHeads(tx, plantId)), ...(await listPackHeads(tx, plantId))]);
  }, MOST_MS);
}

/**
 * Compares everything that is stored with what the audit trail says of it: the chain of the trail itself, then each
 * check with its readings and statistics against the newest seal, and what each act found of it against what the act before had left, then the other records that people answer for. Reads only.
 */
export async function verifyRecords(tx: Tx, plantId: number, noted: readonly NotedHead[] = []): Promise<Verification> {
  const chain = await verifyAuditChain(tx, plantId, noted);
  const [seals, undone] = [await listSeals(tx, plantId), await listUndoneImports(tx, plantId)];
  const deleted = await listDeletedSeals(tx, plantId);
  const firstSealed = await findFirstSealed(tx, plantId);
  const faults: CheckFault[] = (await listSealBreaks(tx, plantId)).map((each) => ({ ...each, kind: 'changed-before' }));
  let [checks, withoutSeal, from] = [0, 0, 0];
  for (;;) {
    const batch = await listChecksAsStored(tx, plantId, from, BATCH);
    for (const check of batch) {
      const seal = seals.get(check.id);
      seals.delete(check.id);
      if (deleted.has(check.id)) faults.push({ checkId: check.id, kind: 'unsealed' });
      else if (check.voided) {
        if (check.importId === null || !undone.has(check.importId)) faults.push({ checkId: check.id, kind: 'taken-back' });
      } else if (seal === undefined && check.id < firstSealed) withoutSeal += 1;
      else if (seal === undefined) faults.push({ checkId: check.id, kind: 'unsealed' });
      else if (seal !== check.seal) faults.push({ checkId: check.id, kind: 'changed' });
    }
    checks += batch.length;
    if (batch.length < BATCH) break;
    from = (batch.at(-1)?.id ?? 0) + 1;
  }
  // Gone by an act of retention that names the check as it was sealed is no fault.
  for (const [checkId, seal] of seals) if (deleted.get(checkId) !== seal) faults.push({ checkId, kind: 'gone' });
  return { auditRows: chain.rows, head: chain.head, auditFaults: chain.faults, checks, checkFaults: faults, checksWithoutSeal: withoutSeal, notedHeads: noted.length, ...(await verifyTold(tx, plantId)) };
}

async function verifyTold(tx: Tx, plantId: number): Promise<Pick<Verification, 'records' | 'recordFaults'>> {
  const records: Verification['records'] = [];
  const recordFaults: RecordFault[] = [];
  for (const record of toldKind.options) {
    const { compared, untold, faults } = await compareWithTold(tx, plantId, record);
    records.push({ record, compared, untold });
    recordFaults.push(...faults.map((fault) => ({ record, ...fault })));
  }
  for (const id of await listPackIds(tx, plantId)) {
    const isWhole = (await findWholePack(tx, plantId, id)) !== null;
    if (!isWhole && !recordFaults.some((fault) => fault.record === 'pack' && fault.id === id)) recordFaults.push({ record: 'pack', id, kind: 'changed' });
  }
  return { records, recordFaults };
}
