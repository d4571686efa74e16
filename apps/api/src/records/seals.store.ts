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

/** Imports that the audit trail says were undone. */
export async function listUndoneImports(tx: Tx, plantId: number): Promise<Set<number>> {
  const rows = await tx.$queryRaw<{ id: number }[]>`SELECT substring(subject FROM '^import ([0-9]+)$')::int AS id FROM audit_row WHERE plant_id = ${plantId} AND action = 'import.undone'`;
  return new Set(rows.map((row) => row.id));
}
