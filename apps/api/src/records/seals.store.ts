import { z } from 'zod';
import { type SealBreak, sealingAct } from '#contract/records';
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

/** The first check that was sealed as it was stored. Older ones are from before the seals, though an act may have sealed one of them since. */
export async function findFirstSealed(tx: Tx, plantId: number): Promise<number> {
  const [row] = await tx.$queryRaw<{ first: number | null }[]>`
    SELECT min(s.key::int) AS first FROM audit_row a, jsonb_object_keys(a.after->'seals') AS s(key)
    WHERE a.plant_id = ${plantId} AND a.action = 'readings.recorded' AND jsonb_typeof(a.after->'seals') = 'object' AND (a.before->'seals'->s.key) IS NULL`;
  return row?.first ?? Number.POSITIVE_INFINITY;
}

const breaks = z.array(z.object({ checkId: z.number().int(), auditId: z.bigint().transform(String), action: sealingAct, at: z.date(), seq: z.bigint().nullable() }));

/**
 * Acts that found a check otherwise than the act before them had left it: it was changed past the program in between. An act that seals a check anew, or
 * takes it back, notes the seal that it found (`before`); acts of earlier versions noted none, and nothing is said of these. By check, oldest first.
 */
export async function listSealBreaks(tx: Tx, plantId: number): Promise<SealBreak[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    WITH found AS MATERIALIZED (
      SELECT s.key::int AS check_id, a.id, a.action, a.at, s.value AS seal FROM audit_row a, jsonb_each_text(a.before->'seals') AS s(key, value)
      WHERE a.plant_id = ${plantId} AND a.action = ANY(${sealingAct.options}::text[]) AND jsonb_typeof(a.before->'seals') = 'object'),
    left_so AS (
      SELECT s.key::int AS check_id, a.id, s.value AS seal FROM audit_row a, jsonb_each_text(a.after->'seals') AS s(key, value)
      WHERE a.plant_id = ${plantId} AND a.action = ANY(${sealingAct.options}::text[]) AND jsonb_typeof(a.after->'seals') = 'object' AND s.key::int IN (SELECT check_id FROM found)),
    steps AS (
      SELECT *, lag(seal) OVER (PARTITION BY check_id ORDER BY id, is_after) AS last FROM (
        SELECT check_id, id, action, at, seal, false AS is_after FROM found UNION ALL SELECT check_id, id, NULL, NULL, seal, true FROM left_so) each_seal)
    SELECT t.check_id AS "checkId", t.id AS "auditId", t.action, t.at, l.seq FROM steps t LEFT JOIN audit_link l ON l.plant_id = ${plantId} AND l.audit_id = t.id
    WHERE NOT t.is_after AND t.last IS NOT NULL AND t.last <> t.seal ORDER BY t.check_id, t.id`;
  return breaks.parse(rows).map(({ at, seq, ...each }) => ({ ...each, at: at.toISOString(), seq: seq?.toString() ?? null }));
}

/** Checks that an act of retention deleted, each with the seal that the act names. */
export async function listDeletedSeals(tx: Tx, plantId: number): Promise<Map<number, string>> {
  const rows = await tx.$queryRaw<{ id: number; seal: string }[]>`
    SELECT s.key::int AS id, s.value AS seal FROM audit_row a, jsonb_each_text(a.after->'seals') AS s(key, value)
    WHERE a.plant_id = ${plantId} AND a.action = 'readings.deleted' AND jsonb_typeof(a.after->'seals') = 'object'`;
  return new Map(rows.map((row) => [row.id, row.seal]));
}

/** The newest seal of each check of which an act wrote readings after this link of the audit chain. A photo seals it anew, and by itself explains no reading. */
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
