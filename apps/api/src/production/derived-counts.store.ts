import type { CountedSpan } from '#canmaking/line/counter-spans';
import type { Tx } from '../platform/work.js';

export type Replaced = { stored: number; changed: number; removed: number };

/** Spans of a machine that overlap what was counted by another way, as `from` and `until` of that. */
export async function findForeignOverlaps(tx: Tx, plantId: number, machineId: number, spans: readonly CountedSpan[]): Promise<Map<number, { from: Date; until: Date }>> {
  const given = JSON.stringify(spans.map(({ at, minutes }) => ({ at: new Date(at).toISOString(), minutes })));
  const rows = await tx.$queryRaw<{ at: Date; from: Date; until: Date }[]>`
    SELECT DISTINCT ON (g.at) g.at, k.at AS from, k.at + make_interval(secs => k.minutes * 60) AS until FROM jsonb_to_recordset(${given}::jsonb) AS g(at timestamptz, minutes float8)
    JOIN production_count k ON k.plant_id = ${plantId} AND k.machine_id = ${machineId} AND NOT k.from_readings
      AND k.at > g.at - interval '1 day' AND k.at < g.at + make_interval(secs => g.minutes * 60) AND k.at + make_interval(secs => k.minutes * 60) > g.at ORDER BY g.at, k.at`;
  return new Map(rows.map(({ at, from, until }) => [at.getTime(), { from, until }]));
}

/** Makes the spans that were worked out from readings between two moments exactly these; what was entered by another way stays. */
export async function replaceDerivedCounts(tx: Tx, plantId: number, machineId: number, between: { from: number; until: number }, spans: readonly CountedSpan[]): Promise<Replaced> {
  const given = JSON.stringify(spans.map(({ at, ...span }) => ({ ...span, at: new Date(at).toISOString() })));
  const removed = await tx.$executeRaw`
    DELETE FROM production_count k WHERE k.plant_id = ${plantId} AND k.machine_id = ${machineId} AND k.from_readings AND k.at >= ${new Date(between.from)} AND k.at < ${new Date(between.until)}
      AND NOT EXISTS (SELECT 1 FROM jsonb_to_recordset(${given}::jsonb) AS g(at timestamptz) WHERE g.at = k.at)`;
  const written = await tx.$queryRaw<{ fresh: boolean }[]>`
    INSERT INTO production_count AS k (plant_id, machine_id, at, minutes, good, rejected, from_readings)
    SELECT ${plantId}, ${machineId}, g.at, g.minutes, g.good, g.rejected, true FROM jsonb_to_recordset(${given}::jsonb) AS g(at timestamptz, minutes float8, good int, rejected int)
    ON CONFLICT (plant_id, machine_id, at) DO UPDATE SET minutes = excluded.minutes, good = excluded.good, rejected = excluded.rejected
      WHERE (k.minutes, k.good, k.rejected) IS DISTINCT FROM (excluded.minutes, excluded.good, excluded.rejected) RETURNING (xmax = 0) AS fresh`;
  const stored = written.filter(({ fresh }) => fresh).length;
  return { stored, changed: written.length - stored, removed };
}
