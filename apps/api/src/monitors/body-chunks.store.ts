import { arrayText } from '../platform/array-text.js';
import type { Tx } from '../platform/work.js';
import type { ChunkRow, StoredChunk } from './minute-book.js';
import type { JudgedGroup } from './subgroup-former.js';

/** What is stored of these minutes. Each is looked up by key on its own, however large the partitions are. */
export async function loadChunks(tx: Tx, plantId: number, wanted: readonly { streamId: number; minute: number }[]): Promise<StoredChunk[]> {
  if (wanted.length === 0) return [];
  const rows = await tx.$queryRaw<{ stream_id: number; minute: Date; first_count: bigint | null; offsets: number[]; readings: string }[]>`
    SELECT c.* FROM unnest(${wanted.map(({ streamId }) => streamId)}::int[], ${wanted.map(({ minute }) => new Date(minute).toISOString())}::timestamptz[]) AS w(stream_id, minute)
    CROSS JOIN LATERAL (SELECT c.stream_id, c.minute, c.first_count, c.offsets, c.readings::text AS readings FROM body_chunk c WHERE c.plant_id = ${plantId} AND c.stream_id = w.stream_id AND c.minute = w.minute ORDER BY c.part OFFSET 0) c`;
  return rows.map((row) => ({ streamId: row.stream_id, minute: row.minute.getTime(), firstCount: row.first_count === null ? null : Number(row.first_count), offsets: row.offsets, readings: parseReadings(row.readings) }));
}

/** Array text keeps single precision as it was written; as numbers of double precision the same readings would look like others. */
export const parseReadings = (text: string): (number | null)[] => (text === '{}' ? [] : text.slice(1, -1).split(',').map((value) => (value === 'NULL' ? null : Number(value))));

/** Makes the monthly partitions of these moments where they are missing. */
export async function makeBodyMonths(tx: Tx, months: readonly Date[]): Promise<void> {
  await tx.$executeRaw`SELECT make_body_month(m) FROM unnest(${months.map((month) => month.toISOString())}::timestamptz[]) AS m`;
}

/** Stores chunks by one statement; a minute that was stored before is replaced, since the rows given hold all of it. */
export async function upsertChunks(tx: Tx, plantId: number, rows: readonly ChunkRow[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Value>(pick: (row: ChunkRow) => Value) => rows.map(pick);
  await tx.$executeRaw`
    INSERT INTO body_chunk (plant_id, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings)
    SELECT ${plantId}, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets::smallint[], readings::real[]
    FROM unnest(
      ${column((r) => r.streamId)}::int[], ${column((r) => new Date(r.minute).toISOString())}::timestamptz[], ${column((r) => r.part)}::int[], ${column((r) => r.n)}::int[],
      ${arrayText(column((r) => r.mean))}::float8[], ${arrayText(column((r) => r.range))}::float8[], ${arrayText(column((r) => r.sd))}::float8[], ${arrayText(column((r) => r.low))}::float8[], ${arrayText(column((r) => r.high))}::float8[],
      ${arrayText(column((r) => r.firstCount))}::bigint[], ${arrayText(column((r) => r.lastCount))}::bigint[], ${column((r) => arrayText(r.offsets))}::text[], ${column((r) => arrayText(r.readings))}::text[]
    ) AS c(stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings)
    ON CONFLICT (plant_id, stream_id, minute, part) DO UPDATE SET n = excluded.n, mean = excluded.mean, range = excluded.range, sd = excluded.sd, low = excluded.low, high = excluded.high,
      first_count = excluded.first_count, last_count = excluded.last_count, offsets = excluded.offsets, readings = excluded.readings`;
}

/** The readings of these rows are in chunks, or in a newer journal row of the same transaction. */
export async function deleteJournal(tx: Tx, plantId: number, feedId: number, ids: readonly bigint[]): Promise<void> {
  await tx.$executeRaw`DELETE FROM feed_journal WHERE plant_id = ${plantId} AND feed_id = ${feedId} AND id = ANY(${[...ids]}::bigint[])`;
}

/** Notes groups that were judged without all of their bodies. */
export async function insertJudgedGroups(tx: Tx, plantId: number, groups: readonly JudgedGroup[]): Promise<void> {
  if (groups.length === 0) return;
  await tx.feedJudgedGroup.createMany({ data: groups.map(({ streamId, number, at }) => ({ plantId, streamId, number: BigInt(number), at: new Date(at) })), skipDuplicates: true });
}

/** Those of these streams since a moment, oldest first. */
export async function listJudgedGroups(tx: Tx, plantId: number, streamIds: readonly number[], since: Date): Promise<JudgedGroup[]> {
  const rows = await tx.feedJudgedGroup.findMany({ where: { plantId, streamId: { in: [...streamIds] }, at: { gte: since } }, orderBy: { at: 'asc' } });
  return rows.map(({ streamId, number, at }) => ({ streamId, number: Number(number), at: at.getTime() }));
}

/** Forgets those from before a moment: no body comes so late. */
export async function deleteJudgedGroups(tx: Tx, before: Date): Promise<void> {
  await tx.feedJudgedGroup.deleteMany({ where: { at: { lt: before } } });
}

/** Stores one batch; answers the row's id. */
export async function insertJournal(tx: Tx, plantId: number, feedId: number, entries: Uint8Array<ArrayBuffer>): Promise<bigint> {
  const { id } = await tx.feedJournal.create({ data: { plantId, feedId, entries }, select: { id: true } });
  return id;
}

export async function listJournal(tx: Tx, plantId: number, feedId: number): Promise<{ id: bigint; entries: Uint8Array }[]> {
  return tx.feedJournal.findMany({ where: { plantId, feedId }, orderBy: { id: 'asc' }, select: { id: true, entries: true } });
}
