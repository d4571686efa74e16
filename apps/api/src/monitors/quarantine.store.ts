import { createHash } from 'node:crypto';
import type { Quarantined } from '#contract/monitors';
import type { Tx } from '../platform/work.js';

export type RefusedMessage = { topic: string; payload: Uint8Array<ArrayBuffer>; receivedAt: Date; reason: string };
export type Replay = { id: number; topic: string; payload: Uint8Array<ArrayBuffer>; receivedAt: Date; asMeasured: boolean };

/** Keeps a message that could not be taken. The same one again, while the first still waits, is counted, not kept twice. */
export async function insertRefused(tx: Tx, plantId: number, feedId: number, { topic, payload, receivedAt, reason }: RefusedMessage): Promise<void> {
  const sha256 = createHash('sha256').update(topic).update('\0').update(payload).digest('hex');
  const again = await tx.feedQuarantine.updateMany({ where: { plantId, feedId, sha256, state: 'waiting' }, data: { lastAt: receivedAt, times: { increment: 1 }, reason } });
  if (again.count === 0) await tx.feedQuarantine.create({ data: { plantId, feedId, topic, payload, sha256, firstAt: receivedAt, lastAt: receivedAt, reason } });
}

export async function listRefused(tx: Tx, plantId: number, feedId: number, state?: Quarantined['state']): Promise<Quarantined[]> {
  const rows = await tx.$queryRaw<(Omit<Quarantined, 'payload' | 'firstAt' | 'lastAt' | 'replayedAt'> & { head: Uint8Array; firstAt: Date; lastAt: Date; replayedAt: Date | null })[]>`
    SELECT q.id, q.feed_id AS "feedId", q.topic, substring(q.payload FROM 1 FOR 4000) AS head, length(q.payload) AS "payloadBytes", q.first_at AS "firstAt", q.last_at AS "lastAt", q.times, q.reason, q.state,
      q.replayed_at AS "replayedAt", u.name AS "decidedBy", q.decision_reason AS "decisionReason"
    FROM feed_quarantine q LEFT JOIN "user" u ON u.plant_id = q.plant_id AND u.id = q.decided_by
    WHERE q.plant_id = ${plantId} AND q.feed_id = ${feedId} AND (${state ?? null}::text IS NULL OR q.state = ${state ?? null}) ORDER BY q.last_at DESC, q.id DESC LIMIT 200`;
  return rows.map(({ head, ...row }) => ({ ...row, payload: new TextDecoder().decode(head), firstAt: row.firstAt.toISOString(), lastAt: row.lastAt.toISOString(), replayedAt: row.replayedAt?.toISOString() ?? null }));
}

export async function countWaiting(tx: Tx, plantId: number, feedId: number): Promise<number> {
  return tx.feedQuarantine.count({ where: { plantId, feedId, state: 'waiting' } });
}

/** Answers the ids that were waiting, and now are asked to be taken once more. */
export async function askReplay(tx: Tx, plantId: number, feedId: number, ids: readonly number[], asMeasured: boolean, userId: number): Promise<number[]> {
  const rows = await tx.feedQuarantine.updateManyAndReturn({ where: { plantId, feedId, id: { in: [...ids] }, state: 'waiting' }, data: { state: 'replay-asked', asMeasured, decidedBy: userId }, select: { id: true } });
  return rows.map((row) => row.id);
}

export async function discard(tx: Tx, plantId: number, feedId: number, ids: readonly number[], reason: string, userId: number): Promise<number[]> {
  const rows = await tx.feedQuarantine.updateManyAndReturn({ where: { plantId, feedId, id: { in: [...ids] }, state: { in: ['waiting', 'replay-asked'] } }, data: { state: 'discarded', decisionReason: reason, decidedBy: userId }, select: { id: true } });
  return rows.map((row) => row.id);
}

/**
 * Takes out what is too old, and the oldest beyond what a plant keeps: first what was decided about, then what waits.
 * Answers how many of each feed went without a decision.
 */
export async function trimQuarantine(tx: Tx, plantId: number, most: { messages: number; days: number }, now: Date): Promise<{ feedId: number; dropped: number; gone: number }[]> {
  return tx.$queryRaw<{ feedId: number; dropped: number; gone: number }[]>`
    WITH listed AS (
      SELECT id, last_at, row_number() OVER (ORDER BY state IN ('waiting', 'replay-asked') DESC, last_at DESC, id DESC) AS place FROM feed_quarantine WHERE plant_id = ${plantId}),
    gone AS (
      DELETE FROM feed_quarantine q USING listed l WHERE q.plant_id = ${plantId} AND q.id = l.id AND (l.place > ${most.messages} OR l.last_at < ${now}::timestamptz - make_interval(days => ${most.days}::int))
      RETURNING q.feed_id, q.state)
    SELECT feed_id AS "feedId", count(*) FILTER (WHERE state IN ('waiting', 'replay-asked'))::int AS dropped, count(*)::int AS gone FROM gone GROUP BY feed_id ORDER BY feed_id`;
}

/** What is to be taken once more by the mapping as it is now: none for a runner whose mapping is of an older `revision`. */
export async function listReplays(tx: Tx, plantId: number, feedId: number, revision: number, take: number): Promise<Replay[]> {
  const rows = await tx.feedQuarantine.findMany({ where: { plantId, feedId, state: 'replay-asked', feed: { revision } }, orderBy: { id: 'asc' }, take, select: { id: true, topic: true, payload: true, firstAt: true, asMeasured: true } });
  return rows.map(({ firstAt, ...row }) => ({ ...row, receivedAt: firstAt }));
}

/** A replay that was taken, or (with a reason) refused once more. */
export async function settleReplay(tx: Tx, plantId: number, id: number, at: Date, refused: string | null): Promise<void> {
  await tx.feedQuarantine.updateMany({ where: { plantId, id, state: 'replay-asked' }, data: refused === null ? { state: 'replayed', replayedAt: at } : { state: 'waiting', reason: refused, lastAt: at } });
}
