import type { CheckSkip, SecondReading } from '#contract/check-extras';
import { arrayText, textArray } from '../platform/array-text.js';
import { remember } from '../platform/remember.js';
import type { Tx } from '../platform/work.js';

export type NewCheckRow = {
  planId: number | null; machineId: number; productId: number; takenAt: Date; enteredAt: Date; /** A person, or null and `feed`. */ enteredBy: number | null; feed: string | null; inspector: string;
  cans: readonly { number: number; unitId: number | null; laneId: number | null }[]; positions: readonly string[];
  key: string; contentHash: string; source: string; importId: number | null; note: string | null;
  begunAt: string | null; finishedAt: string | null; skips: readonly CheckSkip[]; secondReadings: readonly SecondReading[];
};

/**
 * Stores the checks whose key is new; answers the id for each, or null where the key was there before.
 * The key of a check that was taken back with its import is free again: it moves aside on the old row, which stays.
 */
export async function insertChecks(tx: Tx, plantId: number, checks: readonly NewCheckRow[]): Promise<(number | null)[]> {
  const ids = await insertNewKeys(tx, plantId, checks);
  if (!ids.includes(null)) return ids;
  const freed = await tx.$queryRaw<{ key: string }[]>`
    UPDATE "check" k SET key = k.key || ' taken back ' || k.id FROM unnest(${checks.flatMap((check, index) => (ids[index] === null ? [check.key] : []))}::text[]) AS wanted(key)
    WHERE k.plant_id = ${plantId} AND k.key = wanted.key AND k.voided_at IS NOT NULL RETURNING wanted.key`;
  if (freed.length === 0) return ids;
  const keys = new Set(freed.map(({ key }) => key));
  const places = checks.flatMap((check, index) => (ids[index] === null && keys.has(check.key) ? [index] : []));
  const again = await insertNewKeys(tx, plantId, places.map((place) => checks[place] as NewCheckRow));
  return ids.map((id, index) => (places.includes(index) ? again[places.indexOf(index)] ?? null : id));
}

async function insertNewKeys(tx: Tx, plantId: number, checks: readonly NewCheckRow[]): Promise<(number | null)[]> {
  const numbers = (pick: (check: NewCheckRow) => number | null) => arrayText(checks.map(pick));
  const texts = (pick: (check: NewCheckRow) => string | null) => textArray(checks.map(pick));
  // Checks of one batch share their lists of cans and positions.
  const cansOf = (pick: (can: NewCheckRow['cans'][number]) => number) => {
    const text = remember((cans: NewCheckRow['cans']) => arrayText(cans.map(pick)));
    return texts((c) => text(c.cans));
  };
  const positionsOf = remember((positions: readonly string[]) => textArray(positions));
  const rows = await tx.$queryRaw<{ key: string; id: number }[]>`
    /* named: new-checks */ INSERT INTO "check" (plant_id, plan_id, machine_id, product_id, taken_at, entered_at, entered_by, feed, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source, import_id, note, begun_at, finished_at, skips, second_readings)
    SELECT ${plantId}, plan_id, machine_id, product_id, taken_at, entered_at, entered_by, feed, inspector, can_numbers::int[], can_unit_ids::int[], can_lane_ids::int[], positions::text[], key, content_hash, source, import_id, note, begun_at, finished_at, skips, second_readings
    FROM unnest(
      ${numbers((c) => c.planId)}::int[], ${numbers((c) => c.machineId)}::int[], ${numbers((c) => c.productId)}::int[], ${texts((c) => c.takenAt.toISOString())}::timestamptz[], ${texts((c) => c.enteredAt.toISOString())}::timestamptz[],
      ${numbers((c) => c.enteredBy)}::int[], ${texts((c) => c.feed)}::text[], ${texts((c) => c.inspector)}::text[],
      ${cansOf((can) => can.number)}::text[], ${cansOf((can) => can.unitId ?? 0)}::text[], ${cansOf((can) => can.laneId ?? 0)}::text[], ${texts((c) => positionsOf(c.positions))}::text[],
      ${texts((c) => c.key)}::text[], ${texts((c) => c.contentHash)}::text[], ${texts((c) => c.source)}::text[], ${numbers((c) => c.importId)}::int[], ${texts((c) => c.note)}::text[],
      ${texts((c) => c.begunAt)}::timestamptz[], ${texts((c) => c.finishedAt)}::timestamptz[], ${texts((c) => JSON.stringify(c.skips))}::jsonb[], ${texts((c) => JSON.stringify(c.secondReadings))}::jsonb[]
    ) AS c(plan_id, machine_id, product_id, taken_at, entered_at, entered_by, feed, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source, import_id, note, begun_at, finished_at, skips, second_readings)
    ON CONFLICT (plant_id, key) DO NOTHING
    RETURNING key, id`;
  const ids = new Map(rows.map((row) => [row.key, row.id]));
  return checks.map((check) => {
    const id = ids.get(check.key) ?? null;
    ids.delete(check.key); // The same key a second time in one batch is a repeat, too.
    return id;
  });
}

/** The stored checks of these keys, with the hash of what was asked then. */
export async function findChecksByKey(tx: Tx, plantId: number, keys: readonly string[]): Promise<Map<string, { id: number; contentHash: string; voided: boolean }>> {
  const rows = await tx.$queryRaw<{ key: string; id: number; content_hash: string; voided: boolean }[]>`
    SELECT key, id, content_hash, voided_at IS NOT NULL AS voided FROM "check" WHERE plant_id = ${plantId} AND key = ANY(${[...keys]}::text[])`;
  return new Map(rows.map((row) => [row.key, { id: row.id, contentHash: row.content_hash, voided: row.voided }]));
}
