import { createHash } from 'node:crypto';
import type { Tx } from './work.js';

/** A place in a plant's chain, as it is printed on paper: the chain up to here cannot be changed without this hash changing. */
export type ChainHead = { seq: string; hash: string };
export type ChainFault = {
  /** altered: row or link is not what was hashed. removed: a linked row is gone. cut: links are missing. unlinked: a row came in past the chain. other-head: the chain does not hold what was noted elsewhere. */
  kind: 'altered' | 'removed' | 'cut' | 'unlinked' | 'other-head';
  seq: string | null;
  auditId: string | null;
  subject: string | null;
  /** Where the head was noted ("typed", "signature 3"), for `other-head`. */
  notedBy: string | null;
};
export type NotedHead = ChainHead & { notedBy: string };

type LinkRow = { seq: bigint; audit_id: bigint; hash: string; fields: (string | null)[] | null; subject: string | null };
const BATCH = 5000;

/** The newest link; null while nothing was done yet. */
export async function chainHead(tx: Tx, plantId: number): Promise<ChainHead | null> {
  const [row] = await tx.$queryRaw<{ seq: bigint; hash: string }[]>`SELECT seq, encode(hash, 'hex') AS hash FROM audit_link WHERE plant_id = ${plantId} ORDER BY seq DESC LIMIT 1`;
  return row ? { seq: row.seq.toString(), hash: row.hash } : null;
}

/** The text of a row in which no two different rows look alike: each value with its length in bytes before it, N for NULL. The same as audit_text() in the database. */
export const rowText = (fields: readonly (string | null)[]): string => fields.map((value) => (value === null ? 'N' : `${Buffer.byteLength(value)}:${value}`)).join(';');

/** SHA-256 over the hash before (none for the first row) and the text of the row. */
export function linkHash(before: string, fields: readonly (string | null)[]): string {
  return createHash('sha256').update(Buffer.from(before, 'hex')).update(rowText(fields), 'utf8').digest('hex');
}

/**
 * Computes a plant's chain anew from the stored rows and compares: a row that was altered, removed or smuggled in without its links
 * is a fault. Who cuts off the end, or computes every link behind a change anew, leaves a chain that fits: that shows only against
 * heads noted before (`noted`: on paper, in signatures, in packs), and not where these are kept in the same hands.
 */
export async function verifyAuditChain(tx: Tx, plantId: number, noted: readonly NotedHead[] = []): Promise<{ rows: number; head: ChainHead | null; faults: ChainFault[] }> {
  const faults: ChainFault[] = [];
  // Several may have noted the same place: each is compared, so that a forged note does not stand before a true one.
  const wanted = new Map<string, NotedHead[]>();
  for (const head of noted) wanted.set(head.seq, [...(wanted.get(head.seq) ?? []), head]);
  let [last, before, rows] = [0n, '', 0];
  for (;;) {
    const batch = await linksAfter(tx, plantId, last);
    for (const link of batch) {
      const place = { seq: link.seq.toString(), auditId: link.audit_id.toString(), subject: link.subject, notedBy: null };
      if (link.seq !== last + 1n) faults.push({ ...place, kind: 'cut' });
      else if (link.fields === null) faults.push({ ...place, kind: 'removed' });
      else if (linkHash(before, link.fields) !== link.hash) faults.push({ ...place, kind: 'altered' });
      for (const head of wanted.get(place.seq) ?? []) if (head.hash !== link.hash) faults.push({ ...place, kind: 'other-head', notedBy: head.notedBy });
      wanted.delete(place.seq);
      [last, before] = [link.seq, link.hash];
    }
    rows += batch.length;
    if (batch.length < BATCH) break;
  }
  for (const head of [...wanted.values()].flat()) faults.push({ kind: 'other-head', seq: head.seq, auditId: null, subject: null, notedBy: head.notedBy });
  for (const row of await unlinked(tx, plantId)) faults.push({ kind: 'unlinked', seq: null, auditId: row.id.toString(), subject: row.subject, notedBy: null });
  return { rows, head: last === 0n ? null : { seq: last.toString(), hash: before }, faults };
}

function linksAfter(tx: Tx, plantId: number, seq: bigint): Promise<LinkRow[]> {
  return tx.$queryRaw<LinkRow[]>`
    SELECT l.seq, l.audit_id, encode(l.hash, 'hex') AS hash, a.subject,
      CASE WHEN a.id IS NOT NULL THEN ARRAY[a.plant_id::text, a.id::text, to_char(a.at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), a.user_id::text, a.actor, a.action, a.subject, a.before::text, a.after::text] END AS fields
    FROM audit_link l LEFT JOIN audit_row a ON a.plant_id = l.plant_id AND a.id = l.audit_id
    WHERE l.plant_id = ${plantId} AND l.seq > ${seq} ORDER BY l.seq LIMIT ${BATCH}`;
}

function unlinked(tx: Tx, plantId: number): Promise<{ id: bigint; subject: string }[]> {
  return tx.$queryRaw<{ id: bigint; subject: string }[]>`
    SELECT a.id, a.subject FROM audit_row a LEFT JOIN audit_link l ON l.plant_id = a.plant_id AND l.audit_id = a.id
    WHERE a.plant_id = ${plantId} AND l.audit_id IS NULL ORDER BY a.id LIMIT 1000`;
}
