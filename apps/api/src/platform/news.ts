import { newsReaders } from '#contract/news';
import type { Tx } from './work.js';

export type NewsItem = { plantId: number; kind: string; id: number };
/** How long news can be asked for again after a drop; rows stay for twice as long, so that what was written early and committed late is still there. */
export const RESUME_MS = 30 * 60_000;
const KEEP_MS = 2 * RESUME_MS;

/** "signal.raised" with { signalId: 7 } is news of signal 7. */
export function newsOf(message: { kind: string; payload: Record<string, unknown> }): { kind: string; id: number }[] {
  const kind = message.kind.split('.')[0] ?? '';
  const id = message.payload[`${kind}Id`];
  return Object.hasOwn(newsReaders, kind) && typeof id === 'number' ? [{ kind, id }] : [];
}

/** Written in the transaction of the change; a trigger wakes every process at its commit. */
export async function writeNews(tx: Tx, plantId: number, items: readonly { kind: string; id: number }[]): Promise<void> {
  if (items.length === 0) return;
  await tx.$executeRaw`
    /* named: news */ INSERT INTO news (plant_id, xid, kind, subject_id)
    SELECT ${plantId}, pg_current_xact_id()::text::bigint, item.kind, item.id
    FROM (SELECT DISTINCT kind, id FROM jsonb_to_recordset(${JSON.stringify(items)}::jsonb) AS listed(kind text, id int)) item ORDER BY item.kind, item.id`;
}

/** Every transaction before `horizon` has ended: whoever knows the rows up to it, and those after it that were visible, has missed nothing. */
export type NewsRead = { horizon: bigint; at: Date; rows: (NewsItem & { row: bigint; xid: bigint })[]; more: boolean };

/** Committed news of transactions from `from` on, without the rows in `seen`, in one snapshot; of one plant, or of all (null). */
export async function readNews(tx: Tx, plantId: number | null, from: bigint | null, seen: readonly bigint[], take: number): Promise<NewsRead> {
  const known = seen.map(String);
  const rows = await tx.$queryRaw<{ horizon: string; now: Date; plant_id: number | null; id: bigint | null; xid: bigint; kind: string; subject_id: number }[]>`
    SELECT s.horizon, s.now, n.plant_id, n.id, n.xid, n.kind, n.subject_id
    FROM (SELECT pg_snapshot_xmin(pg_current_snapshot())::text AS horizon, clock_timestamp() AS now) s
    LEFT JOIN news n ON n.xid >= ${from === null ? null : String(from)}::bigint AND (${plantId}::int IS NULL OR n.plant_id = ${plantId}::int) AND NOT (n.id = ANY (${known}::text[]::bigint[]))
    ORDER BY n.id LIMIT ${take + 1}`;
  const [first] = rows;
  if (!first) throw new Error('the database answered without a snapshot');
  const found = rows.flatMap(({ plant_id, id, xid, kind, subject_id }) => (plant_id === null || id === null ? [] : [{ plantId: plant_id, row: id, xid, kind, id: subject_id }]));
  return { horizon: BigInt(first.horizon), at: first.now, rows: found.slice(0, take), more: found.length > take };
}

export async function sweepNews(tx: Tx): Promise<void> {
  await tx.$executeRaw`DELETE FROM news WHERE at < clock_timestamp() - make_interval(secs => ${KEEP_MS / 1000}::int)`;
}

/** Where a page stands, as the id of an event: the horizon, and when it was read. */
export const writeCursor = (horizon: bigint, at: Date): string => `${horizon}-${at.getTime()}`;

export function readCursor(text: string): { from: bigint; at: number } | null {
  const match = /^(\d{1,18})-(\d{1,15})$/.exec(text);
  return match ? { from: BigInt(match[1] ?? 0), at: Number(match[2]) } : null;
}
