import { z } from 'zod';
import { checkSkip, secondReading } from '#contract/check-extras';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { byCheck } from './by-check.js';
import { hashPhotos } from './check-photos.store.js';
import { type SealedCheck, sealCheck, type SealedExtras } from './check-seal.js';

export type CheckAsStored = { id: number; voided: boolean; importId: number | null; seal: string };

type CheckRow = { id: number; machine_id: number; product_id: number; taken_at: Date; entered_by: number | null; feed: string | null; inspector: string; can_numbers: number[]; can_unit_ids: number[]; can_lane_ids: number[]; positions: string[]; voided: boolean; import_id: number | null; skips: unknown; second_readings: unknown };
const COLUMNS = Prisma.sql`id, machine_id, product_id, taken_at, entered_by, feed, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, voided_at IS NOT NULL AS voided, import_id, skips, second_readings`;
type SubgroupRow = { check_id: number; stream_id: number; taken_at: Date; sequence: number; cans: number[]; readings: (number | null)[]; n: number; mean: number | null; range: number | null; sd: number | null; low: number | null; high: number | null; gauge_id: number | null; formula: string | null };

/** Checks from an id on, in the order of their ids, each with the seal of what is stored of it now. */
export async function listChecksAsStored(tx: Tx, plantId: number, fromId: number, take: number): Promise<CheckAsStored[]> {
  return sealed(tx, plantId, await tx.$queryRaw<CheckRow[]>`SELECT ${COLUMNS} FROM "check" WHERE plant_id = ${plantId} AND id >= ${fromId} ORDER BY id LIMIT ${take}`);
}

/** The same of these checks only. */
export async function listTheseAsStored(tx: Tx, plantId: number, ids: readonly number[]): Promise<CheckAsStored[]> {
  return sealed(tx, plantId, await tx.$queryRaw<CheckRow[]>`SELECT ${COLUMNS} FROM "check" WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[]) ORDER BY id`);
}

async function sealed(tx: Tx, plantId: number, checks: readonly CheckRow[]): Promise<CheckAsStored[]> {
  const ids = checks.map((check) => check.id);
  // As JSON: the client's arrays know no NULL.
  const rows = await tx.$queryRaw<SubgroupRow[]>`
    SELECT check_id, stream_id, taken_at, sequence, cans, to_json(readings) AS readings, n, mean, range, sd, low, high, gauge_id, formula
    FROM subgroup WHERE plant_id = ${plantId} AND check_id = ANY(${ids}::int[])`;
  const extras = await extrasOf(tx, plantId, ids);
  const subgroupsOf = byCheck(rows.map((row) => ({ checkId: row.check_id, streamId: row.stream_id, takenAt: row.taken_at, sequence: row.sequence, cans: row.cans, readings: row.readings, n: row.n, mean: row.mean, range: row.range, sd: row.sd, low: row.low, high: row.high, gaugeId: row.gauge_id, formula: row.formula })));
  return checks.map((row) => ({ id: row.id, voided: row.voided, importId: row.import_id, seal: sealCheck(checkOf(row), subgroupsOf(row.id), extras(row.id)) }));
}

function checkOf(row: CheckRow): SealedCheck {
  return {
    machineId: row.machine_id, productId: row.product_id, takenAt: row.taken_at, enteredBy: row.entered_by, feed: row.feed, inspector: row.inspector, positions: row.positions,
    skips: z.array(checkSkip).parse(row.skips), secondReadings: z.array(secondReading).parse(row.second_readings),
    cans: row.can_numbers.map((number, index) => ({ number, unitId: row.can_unit_ids[index] || null, laneId: row.can_lane_ids[index] || null })),
  };
}

async function extrasOf(tx: Tx, plantId: number, ids: readonly number[]): Promise<(checkId: number) => SealedExtras> {
  const where = { plantId, checkId: { in: [...ids] } };
  const [counts, ratings] = [await tx.checkCount.findMany({ where }), await tx.checkRating.findMany({ where })];
  const [countsOf, ratingsOf, photosOf] = [byCheck(counts), byCheck(ratings), byCheck(await hashPhotos(tx, plantId, ids))];
  return (checkId) => ({ counts: countsOf(checkId), ratings: ratingsOf(checkId), photos: photosOf(checkId).map(({ sha256 }) => sha256) });
}
