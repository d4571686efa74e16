import type { Tx } from '../platform/work.js';

/** Streams that an import has written to, with the span of its readings in each. */
export function listImportedSpans(tx: Tx, plantId: number, importId: number): Promise<{ stream_id: number; first: Date; last: Date }[]> {
  return tx.$queryRaw`
    SELECT g.stream_id, min(g.taken_at) AS first, max(g.taken_at) AS last FROM subgroup g JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id
    WHERE c.plant_id = ${plantId} AND c.import_id = ${importId} AND c.voided_at IS NULL GROUP BY g.stream_id ORDER BY g.stream_id`;
}

/** Holds the checks of an import that stand, until the end of the transaction: nobody corrects them or seals them anew meanwhile. In the order of their ids. */
export async function lockImportedChecks(tx: Tx, plantId: number, importId: number): Promise<number[]> {
  const rows = await tx.$queryRaw<{ id: number }[]>`SELECT id FROM "check" WHERE plant_id = ${plantId} AND import_id = ${importId} AND voided_at IS NULL ORDER BY id FOR NO KEY UPDATE`;
  return rows.map(({ id }) => id);
}

/** Takes the subgroups of an import out of their streams. Each is kept among the replaced values, and its check stays, marked as taken back. Answers how many checks. */
export async function voidImportedChecks(tx: Tx, plantId: number, importId: number, by: { userId: number; reason: string; at: Date }): Promise<number> {
  await tx.$executeRaw`
    WITH taken AS (
      DELETE FROM subgroup g USING "check" c WHERE c.plant_id = ${plantId} AND c.import_id = ${importId} AND c.voided_at IS NULL AND g.plant_id = c.plant_id AND g.check_id = c.id RETURNING g.*)
    INSERT INTO subgroup_revision (plant_id, stream_id, taken_at, sequence, revision, check_id, readings, n, mean, range, sd, replaced_at, replaced_by, reason)
    SELECT t.plant_id, t.stream_id, t.taken_at, t.sequence, coalesce((SELECT max(r.revision) FROM subgroup_revision r WHERE r.plant_id = t.plant_id AND r.stream_id = t.stream_id AND r.taken_at = t.taken_at AND r.sequence = t.sequence), 0) + 1,
      t.check_id, t.readings, t.n, t.mean, t.range, t.sd, ${by.at}, ${by.userId}, ${by.reason} FROM taken t`;
  return tx.$executeRaw`UPDATE "check" SET voided_at = ${by.at} WHERE plant_id = ${plantId} AND import_id = ${importId} AND voided_at IS NULL`;
}
