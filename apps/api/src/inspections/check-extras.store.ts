import type { AttributeCount } from '#contract/check-extras';
import type { Tx } from '../platform/work.js';

export type NewCount = { checkId: number; characteristicId: number; inspected: number; nonconforming: number };
export type NewRating = { checkId: number; characteristicId: number; can: number; position: number; rating: number };

export async function insertCountsAndRatings(tx: Tx, plantId: number, { counts, ratings }: { counts: readonly NewCount[]; ratings: readonly NewRating[] }): Promise<void> {
  if (counts.length > 0) await tx.checkCount.createMany({ data: counts.map((row) => ({ plantId, ...row })) });
  if (ratings.length > 0) await tx.checkRating.createMany({ data: ratings.map((row) => ({ plantId, ...row })) });
}

export async function listCounts(tx: Tx, plantId: number, checkId: number): Promise<(AttributeCount & { name: string })[]> {
  return tx.$queryRaw<(AttributeCount & { name: string })[]>`
    SELECT c.code, c.name, k.inspected, k.nonconforming FROM check_count k JOIN characteristic c ON c.plant_id = k.plant_id AND c.id = k.characteristic_id
    WHERE k.plant_id = ${plantId} AND k.check_id = ${checkId} ORDER BY c.id`;
}

export type RatedCell = { code: string; name: string; unit: string; can: number; position: number; rating: number };
export async function listRatings(tx: Tx, plantId: number, checkId: number): Promise<RatedCell[]> {
  return tx.$queryRaw<RatedCell[]>`
    SELECT c.code, c.name, c.unit, r.can, r.position, r.rating FROM check_rating r JOIN characteristic c ON c.plant_id = r.plant_id AND c.id = r.characteristic_id
    WHERE r.plant_id = ${plantId} AND r.check_id = ${checkId} ORDER BY c.id, r.can, r.position`;
}

/** Shortest and longest time in seconds of a can from the welding step to the machine's step, over the stretches of the line; null where they do not reach that far back. */
export async function findTransitFromWeld(tx: Tx, plantId: number, machineId: number): Promise<{ shortest: number; longest: number } | null> {
  const [row] = await tx.$queryRaw<{ shortest: number | null; longest: number | null }[]>`
    WITH RECURSIVE back AS (
      SELECT m.step_id, 0::float8 AS shortest, 0::float8 AS longest, 0 AS depth FROM machine m WHERE m.plant_id = ${plantId} AND m.id = ${machineId}
      UNION ALL
      SELECT r.from_step_id, back.shortest + r.shortest_seconds, back.longest + r.longest_seconds, back.depth + 1
      FROM back JOIN stretch r ON r.plant_id = ${plantId} AND r.to_step_id = back.step_id WHERE back.depth < 40)
    SELECT min(back.shortest) AS shortest, max(back.longest) AS longest FROM back JOIN step s ON s.plant_id = ${plantId} AND s.id = back.step_id AND s.kind = 'body-maker'`;
  return row && row.shortest !== null && row.longest !== null ? { shortest: row.shortest, longest: row.longest } : null;
}
