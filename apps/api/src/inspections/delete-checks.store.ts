import type { Tx } from '../platform/work.js';

/** Removes checks with everything that was measured on them; triggers refuse it for a check that no act of retention names. Answers the streams that lost points. */
export async function deleteChecks(tx: Tx, plantId: number, ids: readonly number[]): Promise<number[]> {
  const chosen = [...ids];
  await tx.$executeRaw`DELETE FROM subgroup_revision WHERE plant_id = ${plantId} AND check_id = ANY(${chosen}::int[])`;
  await tx.$executeRaw`DELETE FROM check_count WHERE plant_id = ${plantId} AND check_id = ANY(${chosen}::int[])`;
  await tx.$executeRaw`DELETE FROM check_rating WHERE plant_id = ${plantId} AND check_id = ANY(${chosen}::int[])`;
  await tx.$executeRaw`DELETE FROM check_photo WHERE plant_id = ${plantId} AND check_id = ANY(${chosen}::int[])`;
  const streams = await tx.$queryRaw<{ id: number }[]>`
    WITH gone AS (DELETE FROM subgroup WHERE plant_id = ${plantId} AND check_id = ANY(${chosen}::int[]) RETURNING stream_id) SELECT DISTINCT stream_id AS id FROM gone ORDER BY 1`;
  await tx.$executeRaw`DELETE FROM "check" WHERE plant_id = ${plantId} AND id = ANY(${chosen}::int[])`;
  return streams.map(({ id }) => id);
}

export async function countSubgroups(tx: Tx, plantId: number, ids: readonly number[]): Promise<number> {
  return tx.subgroup.count({ where: { plantId, checkId: { in: [...ids] } } });
}
