import { newsOf, writeNews } from './news.js';
import type { Tx } from './work.js';

/** What may happen a second later, and twice. The list of reactions is flows/reactions.ts. */
export type OutboxMessage = { kind: string; payload: Record<string, unknown> };
export type OutboxRow = OutboxMessage & { plantId: number; id: bigint; attempts: number };

/** Writes the messages, and what open pages are told of them, in the caller's transaction: rolled back with it, delivered at least once after its commit. */
export async function announce(tx: Tx, plantId: number, messages: readonly OutboxMessage[]): Promise<void> {
  if (messages.length === 0) return;
  await tx.$executeRaw`
    INSERT INTO outbox_row (plant_id, kind, payload)
    SELECT ${plantId}, message->>'kind', message->'payload' FROM jsonb_array_elements(${JSON.stringify(messages)}::jsonb) WITH ORDINALITY AS listed(message, place) ORDER BY place`;
  await writeNews(tx, plantId, messages.flatMap(newsOf));
}

/** Which rows a worker takes: those of these kinds, or all but those. Slow work has a lane of its own, so that nothing waits behind it. */
export type Lane = { only: readonly string[] } | { but: readonly string[] };

/** Takes up to `take` due rows of the lane that no other process holds; they stay locked until the transaction ends. */
export async function claim(tx: Tx, take: number, lane: Lane): Promise<OutboxRow[]> {
  const [kinds, listed] = 'only' in lane ? [[...lane.only], true] : [[...lane.but], false];
  const rows = await tx.$queryRaw<{ plant_id: number; id: bigint; kind: string; payload: Record<string, unknown>; attempts: number }[]>`
    SELECT plant_id, id, kind, payload, attempts FROM outbox_row
    WHERE done_at IS NULL AND due_at <= now() AND (kind = ANY (${kinds})) = ${listed} ORDER BY id LIMIT ${take} FOR UPDATE SKIP LOCKED`;
  return rows.map((row) => ({ plantId: row.plant_id, id: row.id, kind: row.kind, payload: row.payload, attempts: row.attempts }));
}

/** Done rows are deleted: the audit row is the memory, the outbox only carries. */
export async function finish(tx: Tx, row: OutboxRow): Promise<void> {
  await tx.outboxRow.delete({ where: { plantId_id: { plantId: row.plantId, id: row.id } } });
}

/** A failed row is tried again after 2, 4, 8 … seconds (at most 10 minutes), with its last error kept. */
export async function postpone(tx: Tx, row: OutboxRow, error: string): Promise<void> {
  const seconds = Math.min(600, 2 ** Math.min(row.attempts + 1, 10));
  await tx.$executeRaw`
    UPDATE outbox_row SET attempts = attempts + 1, error = ${error.slice(0, 2000)}, due_at = now() + make_interval(secs => ${seconds}::int)
    WHERE plant_id = ${row.plantId} AND id = ${row.id}`;
}
