import type { SubgroupStatistics } from '#statistics/charts/subgroup';
import { LONGEST_PATTERN } from '#statistics/rules/run-rules';
import { arrayText, textArray } from '../platform/array-text.js';
import { remember } from '../platform/remember.js';
import type { Tx } from '../platform/work.js';
import { readingsText } from './readings-text.js';

/** How far a rule sees: the longest pattern looks one point less than its length back; two more give the moving range and the last good point. */
export const POINTS_BEFORE = LONGEST_PATTERN + 1;
export const POINTS_AFTER = LONGEST_PATTERN;

export type StoredPoint = { streamId: number; takenAt: Date; sequence: number; checkId: number; n: number; mean: number | null; range: number | null; sd: number | null; limitsId: number | null; formula: string | null };
export type NewSubgroup = StoredPoint & SubgroupStatistics & { cans: readonly number[]; readings: readonly (number | null)[]; gaugeId: number | null };

/** For each stream: all points from `from` to `to`, and those before and after that a rule can still see; in order of stream and time. */
export async function listPointsAround(tx: Tx, plantId: number, spans: readonly { streamId: number; from: Date; to: Date }[]): Promise<StoredPoint[]> {
  const rows = await tx.$queryRaw<{ stream_id: number; taken_at: Date; sequence: number; check_id: number; n: number; mean: number | null; range: number | null; sd: number | null; limits_id: number | null; formula: string | null }[]>`
    /* named: points-around */ WITH span AS (SELECT * FROM unnest(${spans.map((span) => span.streamId)}::int[], ${spans.map((span) => span.from.toISOString())}::timestamptz[], ${spans.map((span) => span.to.toISOString())}::timestamptz[]) AS s(stream_id, from_at, to_at))
    SELECT seen.* FROM span CROSS JOIN LATERAL (
      (SELECT g.stream_id, g.taken_at, g.sequence, g.check_id, g.n, g.mean, g.range, g.sd, g.limits_id, g.formula FROM subgroup g
        WHERE g.plant_id = ${plantId} AND g.stream_id = span.stream_id AND g.taken_at < span.from_at ORDER BY g.taken_at DESC, g.sequence DESC LIMIT ${POINTS_BEFORE})
      UNION ALL
      (SELECT g.stream_id, g.taken_at, g.sequence, g.check_id, g.n, g.mean, g.range, g.sd, g.limits_id, g.formula FROM subgroup g
        WHERE g.plant_id = ${plantId} AND g.stream_id = span.stream_id AND g.taken_at BETWEEN span.from_at AND span.to_at)
      UNION ALL
      (SELECT g.stream_id, g.taken_at, g.sequence, g.check_id, g.n, g.mean, g.range, g.sd, g.limits_id, g.formula FROM subgroup g
        WHERE g.plant_id = ${plantId} AND g.stream_id = span.stream_id AND g.taken_at > span.to_at ORDER BY g.taken_at, g.sequence LIMIT ${POINTS_AFTER})
    ) seen ORDER BY seen.stream_id, seen.taken_at, seen.sequence`;
  return rows.map((row) => ({ streamId: row.stream_id, takenAt: row.taken_at, sequence: row.sequence, checkId: row.check_id, n: row.n, mean: row.mean, range: row.range, sd: row.sd, limitsId: row.limits_id, formula: row.formula }));
}

/** Stores subgroups by one statement, however many. */
export async function insertSubgroups(tx: Tx, plantId: number, subgroups: readonly NewSubgroup[]): Promise<void> {
  if (subgroups.length === 0) return;
  const numbers = (pick: (subgroup: NewSubgroup) => number | null) => arrayText(subgroups.map(pick));
  // Subgroups of one check share their list of cans.
  const cans = remember((list: readonly number[]) => arrayText(list));
  // Numbers need no quoting inside: a column of arrays is put together as it is.
  const readings = `{${subgroups.map((s) => `"{${readingsText(s.readings).slice(1, -1)}}"`).join(',')}}`;
  const moments = remember((at: Date) => at.toISOString());
  await tx.$executeRaw`
    /* named: new-subgroups */ INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, gauge_id, formula, limits_id)
    SELECT ${plantId}, stream_id, taken_at, sequence, check_id, cans::smallint[], readings::float8[], n, mean, range, sd, low, high, gauge_id, formula, limits_id
    FROM unnest(
      ${numbers((s) => s.streamId)}::int[], ${textArray(subgroups.map((s) => moments(s.takenAt)))}::timestamptz[], ${numbers((s) => s.sequence)}::int[], ${numbers((s) => s.checkId)}::int[],
      ${textArray(subgroups.map((s) => cans(s.cans)))}::text[], ${readings}::text[], ${numbers((s) => s.n)}::int[],
      ${numbers((s) => s.mean)}::float8[], ${numbers((s) => s.range)}::float8[], ${numbers((s) => s.sd)}::float8[],
      ${numbers((s) => s.low)}::float8[], ${numbers((s) => s.high)}::float8[],
      ${numbers((s) => s.gaugeId)}::int[], ${textArray(subgroups.map((s) => s.formula))}::text[], ${numbers((s) => s.limitsId)}::int[]
    ) AS s(stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, gauge_id, formula, limits_id)`;
}
