import { listChecksAsStored } from '../inspections/check-seals.store.js';
import { type ChainFault, type ChainHead, type NotedHead, verifyAuditChain } from '../platform/audit-chain.js';
import type { Tx } from '../platform/work.js';
import { listDeletedSeals, listSeals, listUndoneImports } from '../records/seals.store.js';

export type SealFault = {
  checkId: number;
  /** changed: differs from its seal. gone: sealed, not stored. unsealed: stored past the program. taken-back: marked as taken back by no undone import. */
  kind: 'changed' | 'gone' | 'unsealed' | 'taken-back';
};
export type Verification = {
  auditRows: number; head: ChainHead | null; auditFaults: ChainFault[];
  checks: number; checkFaults: SealFault[];
  /** Stored before this version began to seal: nothing can be said about them. */
  checksWithoutSeal: number;
};

const BATCH = 1000;

/**
 * Compares everything that is stored with what the audit trail says of it: the chain of the trail itself, then each
 * check with its readings and statistics against the newest seal. Reads only; `progress` hears rows and checks done.
 */
export async function verifyRecords(tx: Tx, plantId: number, noted: readonly NotedHead[] = [], progress: (part: 'audit' | 'checks', done: number) => void = () => {}): Promise<Verification> {
  const chain = await verifyAuditChain(tx, plantId, noted, (done) => progress('audit', done));
  const [seals, undone] = [await listSeals(tx, plantId), await listUndoneImports(tx, plantId)];
  const deleted = await listDeletedSeals(tx, plantId);
  const firstSealed = seals.keys().next().value ?? Number.POSITIVE_INFINITY;
  const faults: SealFault[] = [];
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
    progress('checks', checks);
    if (batch.length < BATCH) break;
    from = (batch.at(-1)?.id ?? 0) + 1;
  }
  // Gone by an act of retention that names the check as it was sealed is no fault.
  for (const [checkId, seal] of seals) if (deleted.get(checkId) !== seal) faults.push({ checkId, kind: 'gone' });
  return { auditRows: chain.rows, head: chain.head, auditFaults: chain.faults, checks, checkFaults: faults, checksWithoutSeal: withoutSeal };
}
