import type { Tx } from '../platform/work.js';

/** The newest seal of each check, as the audit rows hold them. */
export async function listSeals(tx: Tx, plantId: number): Promise<Map<number, string>> {
  const rows = await tx.$queryRaw<{ id: number; seal: string }[]>`
    SELECT DISTINCT ON (s.key::int) s.key::int AS id, s.value AS seal
    FROM audit_row a, jsonb_each_text(a.after->'seals') AS s(key, value)
    WHERE a.plant_id = ${plantId} AND a.action IN ('readings.recorded', 'reading.corrected', 'check.photo-added') AND jsonb_typeof(a.after->'seals') = 'object'
    ORDER BY s.key::int, a.id DESC`;
  return new Map(rows.map((row) => [row.id, row.seal]));
}

/** Checks that an act of retention deleted, each with the seal that the act names. */
export async function listDeletedSeals(tx: Tx, plantId: number): Promise<Map<number, string>> {
  const rows = await tx.$queryRaw<{ id: number; seal: string }[]>`
    SELECT s.key::int AS id, s.value AS seal FROM audit_row a, jsonb_each_text(a.after->'seals') AS s(key, value)
    WHERE a.plant_id = ${plantId} AND a.action = 'readings.deleted' AND jsonb_typeof(a.after->'seals') = 'object'`;
  return new Map(rows.map((row) => [row.id, row.seal]));
}

/** The newest seal of each check whose readings an act recorded or corrected after this link of the audit chain; photos that came since have sealed it anew, but explain no reading. */
export async function listSealsSince(tx: Tx, plantId: number, seq: string): Promise<Map<number, string>> {
  const rows = await tx.$queryRaw<{ id: number; seal: string }[]>`
    SELECT s.key::int AS id, (array_agg(s.value ORDER BY a.id DESC))[1] AS seal
    FROM audit_link l JOIN audit_row a ON a.plant_id = l.plant_id AND a.id = l.audit_id, jsonb_each_text(a.after->'seals') AS s(key, value)
    WHERE l.plant_id = ${plantId} AND l.seq > ${BigInt(seq)} AND a.action IN ('readings.recorded', 'reading.corrected', 'check.photo-added') AND jsonb_typeof(a.after->'seals') = 'object'
    GROUP BY s.key::int HAVING bool_or(a.action <> 'check.photo-added')`;
  return new Map(rows.map((row) => [row.id, row.seal]));
}

/** What the acts after this link of the audit chain were about ("product 3"), changes of master data and specifications only. */
export async function listSubjectsSince(tx: Tx, plantId: number, seq: string): Promise<Set<string>> {
  const rows = await tx.$queryRaw<{ subject: string }[]>`
    SELECT DISTINCT a.subject FROM audit_link l JOIN audit_row a ON a.plant_id = l.plant_id AND a.id = l.audit_id
    WHERE l.plant_id = ${plantId} AND l.seq > ${BigInt(seq)} AND a.subject ~ '^(product|machine|characteristic|stream|specification) [0-9]+$'
      AND a.action IN ('product.changed', 'machine.changed', 'characteristic.changed', 'stream.changed', 'specification.proposed', 'specification.approved')`;
  return new Set(rows.map(({ subject }) => subject));
}

/** Imports that the audit trail says were undone. */
export async function listUndoneImports(tx: Tx, plantId: number): Promise<Set<number>> {
  const rows = await tx.$queryRaw<{ id: number }[]>`SELECT substring(subject FROM '^import ([0-9]+)$')::int AS id FROM audit_row WHERE plant_id = ${plantId} AND action = 'import.undone'`;
  return new Set(rows.map((row) => row.id));
}
