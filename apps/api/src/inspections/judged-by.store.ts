import type { Tx } from '../platform/work.js';

/**
 * Gives the subgroups of a stream from `from` up to, not including, `until` the limits that they are judged by.
 * Subgroups of another formula get none: their numbers are not comparable with these limits. Answers how many have them now.
 */
export async function setLimitsOfSubgroups(tx: Tx, plantId: number, streamId: number, given: { limitsId: number; formula: string | null; from: Date; until: Date | null }): Promise<number> {
  const [row] = await tx.$queryRaw<{ judged: number }[]>`
    WITH changed AS (
      UPDATE subgroup SET limits_id = CASE WHEN formula IS NOT DISTINCT FROM ${given.formula}::text THEN ${given.limitsId}::int END
      WHERE plant_id = ${plantId} AND stream_id = ${streamId} AND taken_at >= ${given.from.toISOString()}::timestamptz AND taken_at < ${given.until?.toISOString() ?? 'infinity'}::timestamptz
      RETURNING limits_id, mean)
    SELECT (count(*) FILTER (WHERE limits_id IS NOT NULL AND mean IS NOT NULL))::int AS judged FROM changed`;
  return row?.judged ?? 0;
}
