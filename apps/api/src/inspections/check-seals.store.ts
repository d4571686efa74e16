import { z } from 'zod';
import { checkSkip, secondReading } from '#contract/check-extras';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { byCheck } from './by-check.js';
import { hashPhotos } from './check-photos.store.js';
import { type SealedCheck, sealCheck, type SealedExtras, type SealedSubgroup } from './check-seal.js';

export type CheckAsStored = { id: number; voided: boolean; importId: number | null; seal: string };
/** What an act has just added to checks. */
export type JustAdded = { subgroups?: readonly Pick<SealedSubgroup, 'streamId' | 'takenAt' | 'sequence'>[]; photoIds?: readonly number[] };
export type Seals = Record<string, string>;
/** An import may have thousands of checks: their readings are not held all at once. */
const AT_ONCE = 1000;
type Parts = { row: CheckRow; subgroups: SealedSubgroup[]; counts: SealedExtras['counts']; ratings: SealedExtras['ratings']; photos: { id: number; sha256: string }[] };

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

/** The seals of these checks as they are stored. */
export async function sealsAsStored(tx: Tx, plantId: number, ids: readonly number[]): Promise<Seals> {
  const seals: Seals = {};
  for (let from = 0; from < ids.length; from += AT_ONCE) for (const { id, seal } of await listTheseAsStored(tx, plantId, ids.slice(from, from + AT_ONCE))) seals[id] = seal;
  return seals;
}

/**
 * The seals of these checks as they stand with what an act has just added to them (`after`), and as they stood before it (`before`): what
 * is stored, without that. Whoever seals a check anew notes both, so that what was changed past the program before the act does not pass for right.
 */
export async function sealAnew(tx: Tx, plantId: number, ids: readonly number[], added: JustAdded): Promise<{ before: Seals; after: Seals }> {
  const [places, photoIds] = [new Set(added.subgroups?.map(placeOf)), new Set(added.photoIds)];
  const parts = await partsOf(tx, plantId, await tx.$queryRaw<CheckRow[]>`SELECT ${COLUMNS} FROM "check" WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[]) ORDER BY id`);
  const sealsOf = (cut: (part: Parts) => Parts): Seals => Object.fromEntries(parts.map((part) => [part.row.id, sealOf(cut(part))]));
  const without = (part: Parts): Parts => ({ ...part, subgroups: part.subgroups.filter((group) => !places.has(placeOf(group))), photos: part.photos.filter(({ id }) => !photoIds.has(id)) });
  return { before: sealsOf(without), after: sealsOf((part) => part) };
}

const placeOf = ({ streamId, takenAt, sequence }: Pick<SealedSubgroup, 'streamId' | 'takenAt' | 'sequence'>): string => `${streamId} ${takenAt.getTime()} ${sequence}`;

const sealOf = ({ row, subgroups, counts, ratings, photos }: Parts): string => sealCheck(checkOf(row), subgroups, { counts, ratings, photos: photos.map(({ sha256 }) => sha256) });

async function sealed(tx: Tx, plantId: number, checks: readonly CheckRow[]): Promise<CheckAsStored[]> {
  return (await partsOf(tx, plantId, checks)).map((part) => ({ id: part.row.id, voided: part.row.voided, importId: part.row.import_id, seal: sealOf(part) }));
}

async function partsOf(tx: Tx, plantId: number, checks: readonly CheckRow[]): Promise<Parts[]> {
  const ids = checks.map((check) => check.id);
  // As JSON: the client's arrays know no NULL.
  const rows = await tx.$queryRaw<SubgroupRow[]>`
    SELECT check_id, stream_id, taken_at, sequence, cans, to_json(readings) AS readings, n, mean, range, sd, low, high, gauge_id, formula
    FROM subgroup WHERE plant_id = ${plantId} AND check_id = ANY(${ids}::int[])`;
  const subgroupsOf = byCheck(rows.map((row) => ({ checkId: row.check_id, streamId: row.stream_id, takenAt: row.taken_at, sequence: row.sequence, cans: row.cans, readings: row.readings, n: row.n, mean: row.mean, range: row.range, sd: row.sd, low: row.low, high: row.high, gaugeId: row.gauge_id, formula: row.formula })));
  const where = { plantId, checkId: { in: ids } };
  const [counts, ratings] = [await tx.checkCount.findMany({ where }), await tx.checkRating.findMany({ where })];
  const [countsOf, ratingsOf, photosOf] = [byCheck(counts), byCheck(ratings), byCheck(await hashPhotos(tx, plantId, ids))];
  return checks.map((row) => ({ row, subgroups: subgroupsOf(row.id), counts: countsOf(row.id), ratings: ratingsOf(row.id), photos: photosOf(row.id) }));
}

function checkOf(row: CheckRow): SealedCheck {
  return {
    machineId: row.machine_id, productId: row.product_id, takenAt: row.taken_at, enteredBy: row.entered_by, feed: row.feed, inspector: row.inspector, positions: row.positions,
    skips: z.array(checkSkip).parse(row.skips), secondReadings: z.array(secondReading).parse(row.second_readings),
    cans: row.can_numbers.map((number, index) => ({ number, unitId: row.can_unit_ids[index] || null, laneId: row.can_lane_ids[index] || null })),
  };
}
