import type { SubgroupStatistics } from '#statistics/charts/subgroup';
import { LONGEST_PATTERN } from '#statistics/rules/run-rules';
import { floatArrayBytes } from '../platform/array-bytes.js';
import { arrayText, textArray } from '../platform/array-text.js';
import { remember } from '../platform/remember.js';
import type { Tx } from '../platform/work.js';

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

/**
 * Stores subgroups by one statement, however many. What there are many of comes as one array, of which each row takes its part: rows out of arrays of
 * texts cost PostgreSQL half as much again.
 */
export async function insertSubgroups(tx: Tx, plantId: number, subgroups: readonly NewSubgroup[]): Promise<void> {
  if (subgroups.length === 0) return;
  const whole = (pick: (subgroup: NewSubgroup) => number | null) => arrayText(subgroups.map(pick));
  const moments = remember((at: Date) => at.toISOString());
  const numbers = floatArrayBytes(subgroups.flatMap((s) => [[s.mean, s.range, s.sd, s.low, s.high], s.readings]));
  const gaps = subgroups.some((s) => s.readings.includes(null));
  await tx.$executeRaw`
    /* named: new-subgroups */ INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, gauge_id, formula, limits_id)
    SELECT ${plantId}, streams[i], moments[i], sequences[i], checks[i], cans[can : can_ends[i]], CASE WHEN gaps THEN array_replace(numbers[at + 5 : ends[i]], 'NaN', NULL) ELSE numbers[at + 5 : ends[i]] END,
      ns[i], nullif(numbers[at], 'NaN'), nullif(numbers[at + 1], 'NaN'), nullif(numbers[at + 2], 'NaN'), nullif(numbers[at + 3], 'NaN'), nullif(numbers[at + 4], 'NaN'), gauges[i], formulas[i], limits[i]
    FROM (SELECT ${whole((s) => s.streamId)}::int[], ${textArray(subgroups.map((s) => moments(s.takenAt)))}::timestamptz[], ${whole((s) => s.sequence)}::int[], ${whole((s) => s.checkId)}::int[],
      ${arrayText(subgroups.flatMap((s) => s.cans))}::smallint[], ${arrayText(ends(subgroups.map((s) => s.cans.length)))}::int[], ${numbers}::float8[], ${arrayText(ends(subgroups.map((s) => 5 + s.readings.length)))}::int[], ${gaps}::boolean,
      ${whole((s) => s.n)}::int[], ${whole((s) => s.gaugeId)}::int[], ${textArray(subgroups.map((s) => s.formula))}::text[], ${whole((s) => s.limitsId)}::int[]
    ) AS given(streams, moments, sequences, checks, cans, can_ends, numbers, ends, gaps, ns, gauges, formulas, limits)
    CROSS JOIN LATERAL (SELECT i, coalesce(can_ends[i - 1], 0) + 1 AS can, coalesce(ends[i - 1], 0) + 1 AS at FROM generate_series(1, cardinality(streams)) AS i OFFSET 0) AS place`;
}

/** Where each of the lists that follow one another ends. */
function ends(lengths: readonly number[]): number[] {
  let end = 0;
  return lengths.map((length) => (end += length));
}
