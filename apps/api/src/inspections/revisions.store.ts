import type { SubgroupStatistics } from '#statistics/charts/subgroup';
import { arrayText } from '../platform/array-text.js';
import type { Tx } from '../platform/work.js';

export type ReplacedSubgroup = SubgroupStatistics & { streamId: number; takenAt: Date; sequence: number; readings: readonly (number | null)[]; reason: string };

/** Keeps the present state of each subgroup as a revision and puts the new one in its place. */
export async function replaceSubgroups(tx: Tx, plantId: number, subgroups: readonly ReplacedSubgroup[], replacedBy: number, replacedAt: Date): Promise<void> {
  for (const next of subgroups) {
    await tx.$executeRaw`
      INSERT INTO subgroup_revision (plant_id, stream_id, taken_at, sequence, revision, check_id, readings, n, mean, range, sd, replaced_at, replaced_by, reason)
      SELECT plant_id, stream_id, taken_at, sequence, revision, check_id, readings, n, mean, range, sd, ${replacedAt.toISOString()}::timestamptz, ${replacedBy}, ${next.reason}
      FROM subgroup WHERE plant_id = ${plantId} AND stream_id = ${next.streamId} AND taken_at = ${next.takenAt.toISOString()}::timestamptz AND sequence = ${next.sequence}`;
    await tx.$executeRaw`
      UPDATE subgroup SET readings = ${arrayText(next.readings)}::float8[], n = ${next.n}, mean = ${next.mean}::float8, range = ${next.range}::float8, sd = ${next.sd}::float8, low = ${next.low}::float8, high = ${next.high}::float8, revision = revision + 1
      WHERE plant_id = ${plantId} AND stream_id = ${next.streamId} AND taken_at = ${next.takenAt.toISOString()}::timestamptz AND sequence = ${next.sequence}`;
  }
}
