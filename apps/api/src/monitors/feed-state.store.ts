import type { Tx } from '../platform/work.js';

export type FeedCounts = { messages: number; readings: number; subgroups: number; repeated: number; late: number; retained: number; refused: number; serverTimed: number };
export const noCounts = (): FeedCounts => ({ messages: 0, readings: 0, subgroups: 0, repeated: 0, late: 0, retained: 0, refused: 0, serverTimed: 0 });
export type Lease = { plantId: number; feedId: number; owner: string };
export const LEASE_SECONDS = 15;

/** Takes the lease of a feed that nobody runs, or that is ours already; false where another process has it. */
export async function takeLease(tx: Tx, { plantId, feedId, owner }: Lease): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`
    INSERT INTO feed_state (plant_id, feed_id, owner, lease_until, state, since) VALUES (${plantId}, ${feedId}, ${owner}, now() + make_interval(secs => ${LEASE_SECONDS}::int), 'connecting', now())
    ON CONFLICT (plant_id, feed_id) DO UPDATE SET owner = excluded.owner, lease_until = excluded.lease_until WHERE feed_state.owner IS NOT DISTINCT FROM excluded.owner OR feed_state.owner IS NULL OR feed_state.lease_until < now() RETURNING 1`;
  return rows.length > 0;
}

/** False where the lease is no longer ours: then nothing more may be written for the feed. Locks the row, so that a batch and a take-over cannot cross. */
export async function holdLease(tx: Tx, { plantId, feedId, owner }: Lease): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`
    UPDATE feed_state SET lease_until = now() + make_interval(secs => ${LEASE_SECONDS}::int) WHERE plant_id = ${plantId} AND feed_id = ${feedId} AND owner = ${owner} RETURNING 1`;
  return rows.length > 0;
}

/** Gives the feed back, for another process or for a later start. */
export async function endLease(tx: Tx, { plantId, feedId, owner }: Lease): Promise<void> {
  await tx.$executeRaw`UPDATE feed_state SET owner = NULL, lease_until = NULL, state = 'stopped', detail = '', since = now() WHERE plant_id = ${plantId} AND feed_id = ${feedId} AND owner = ${owner}`;
}

export async function writeConnection(tx: Tx, { plantId, feedId, owner }: Lease, state: string, detail: string): Promise<void> {
  await tx.$executeRaw`
    UPDATE feed_state SET since = CASE WHEN state = ${state} THEN since ELSE now() END, state = ${state}, detail = ${detail.slice(0, 500)} WHERE plant_id = ${plantId} AND feed_id = ${feedId} AND owner = ${owner}`;
}

/** Counts messages that went from the quarantine undecided. */
export async function addDropped(tx: Tx, plantId: number, feedId: number, dropped: number): Promise<void> {
  await tx.$executeRaw`UPDATE feed_state SET dropped = dropped + ${dropped} WHERE plant_id = ${plantId} AND feed_id = ${feedId}`;
}

export async function addCounts(tx: Tx, { plantId, feedId }: Lease, counts: FeedCounts, heardAt: Date | null, clockMs: number | null): Promise<void> {
  await tx.$executeRaw`
    UPDATE feed_state SET messages = messages + ${counts.messages}, readings = readings + ${counts.readings}, subgroups = subgroups + ${counts.subgroups}, repeated = repeated + ${counts.repeated}, late = late + ${counts.late},
      retained = retained + ${counts.retained}, refused = refused + ${counts.refused}, server_timed = server_timed + ${counts.serverTimed}, heard_at = coalesce(${heardAt}::timestamptz, heard_at), clock_ms = coalesce(${clockMs}::float8, clock_ms)
    WHERE plant_id = ${plantId} AND feed_id = ${feedId}`;
}
