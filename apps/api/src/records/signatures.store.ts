import { type Role, roles } from '#contract/roles';
import { recordKind, type RecordKind, signatureMeaning, type SignatureMeaning } from '#contract/records';
import { z } from 'zod';
import type { NotedHead } from '../platform/audit-chain.js';
import type { Tx } from '../platform/work.js';

export type NewSignature = { kind: RecordKind; recordId: number; meaning: SignatureMeaning; contentHash: string; userId: number; printedName: string; role: Role; comment: string; at: Date; /** Replaced values of the signed check; null: another kind. */ corrections: number | null; chainSeq: bigint; chainHash: string };
export type StoredSignature = NewSignature & { id: number };

export async function insertSignatures(tx: Tx, plantId: number, signatures: readonly NewSignature[]): Promise<number[]> {
  const rows = await tx.signature.createManyAndReturn({ data: signatures.map((signature) => ({ plantId, ...signature })), select: { id: true } });
  return rows.map(({ id }) => id);
}

export async function findSignatures(tx: Tx, plantId: number, kind: RecordKind, recordId: number): Promise<StoredSignature[]> {
  const rows = await tx.signature.findMany({ where: { plantId, kind, recordId }, orderBy: { id: 'asc' } });
  return rows.map(({ plantId: _plant, ...row }) => ({ ...row, kind: recordKind.parse(row.kind), meaning: signatureMeaning.parse(row.meaning), role: z.enum(roles).parse(row.role) }));
}

/** The heads of the audit chain that signatures noted, each once. */
export async function listSignatureHeads(tx: Tx, plantId: number): Promise<NotedHead[]> {
  const rows = await tx.$queryRaw<{ seq: bigint; hash: string; id: number }[]>`
    SELECT chain_seq AS seq, chain_hash AS hash, min(id) AS id FROM signature WHERE plant_id = ${plantId} AND chain_seq > 0 GROUP BY chain_seq, chain_hash ORDER BY chain_seq`;
  return rows.map((row) => ({ seq: row.seq.toString(), hash: row.hash, notedBy: `signature ${row.id}` }));
}
